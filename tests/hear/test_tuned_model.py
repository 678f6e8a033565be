"""Our own ears: the patch over the wheel's model, and what the tuned model makes of sound."""

import errno
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sounds import after_silence, boiling, fan, shaped, spoken

from assistant.base.errors import EarsMissing, ModelSpoiled
from assistant.hear import tuned_model as module
from assistant.hear.heard import SAMPLE_RATE
from assistant.hear.model_file import Model, patch_of, patched
from assistant.hear.second_opinion import second_opinion
from assistant.hear.shares import plain
from assistant.hear.tuned_model import LONGEST_S, TunedModel, tuned_place
from assistant.hear.whisper_ears import WhisperEars
from assistant.hear.whisper_model import WhisperModel, model_folder
from assistant.understand.decide import SURE_ENOUGH

WEIGHTS = st.floats(-4, 4, width=16)


@pytest.fixture(scope="module")
def tuned() -> TunedModel:
    return TunedModel(threads=1)


@given(st.lists(st.tuples(WEIGHTS, WEIGHTS, WEIGHTS), min_size=1, max_size=6))
def test_a_patch_makes_the_old_weights_nearly_the_new(rows: list[tuple[float, ...]]) -> None:
    new = np.array(rows)
    old = Model("any", 1, {"a": np.ones(new.shape, "<f4"), "b": np.ones(2, "<f4")}, {})
    found = patched(old, patch_of(old, {"a": new})).arrays
    steps = np.abs(new - 1).max(1, keepdims=True) / 127
    assert (np.abs(found["a"] - new) <= steps / 2 + 1e-5).all()
    assert (found["b"] == 1).all()


def test_a_patch_for_another_model_is_refused() -> None:
    with pytest.raises(KeyError):
        patched(Model("any", 1, {}, {}), {"a": np.zeros(1, np.int8)})


@pytest.mark.audio
def test_the_published_model_listens_beside_it(tuned: TunedModel) -> None:
    sound = after_silence(spoken("three point one"), gap=0.3)
    published = WhisperModel(model_folder(), threads=1)
    ours, theirs = tuned.heard(sound)
    assert theirs.found == published.heard(sound).found
    assert ours.found != theirs.found


@pytest.mark.audio
@pytest.mark.parametrize(
    ("words", "written"),
    [
        ("seventy two degrees", "72 degrees"),
        ("three point one", "3.1"),
        ("how much sugar", "how much sugar"),
        ("two", "2"),
    ],
)
def test_it_writes_figures(tuned: TunedModel, words: str, written: str) -> None:
    ours, _ = tuned.heard(after_silence(spoken(words), gap=0.3))
    assert plain(ours.found[0].text) == written


@pytest.mark.audio
@pytest.mark.parametrize("noise", [boiling(2.0), fan(2.0), shaped(2.0, 0.1, 1.0)])
def test_it_does_not_believe_that_noise_says_anything(tuned: TunedModel, noise: np.ndarray) -> None:
    ours, _ = tuned.heard(noise)
    assert all(each.logprob < -3 for each in ours.found)


@pytest.mark.audio
def test_alone_it_is_not_believed_enough_to_take_a_number() -> None:
    sound = after_silence(spoken("seventy two degrees"))
    (alone,) = WhisperEars().hear(sound)
    (both,) = WhisperEars(second=second_opinion()).hear(sound)
    assert alone.text == both.text
    assert alone.guesses[0].share < SURE_ENOUGH < both.guesses[0].share


@pytest.mark.audio
def test_long_talk_is_heard_by_the_published_model(tuned: TunedModel) -> None:
    sentence = spoken("the boats came back before it rained and we had tea in the hut")
    talk = np.concatenate([sentence] * 3)
    assert len(talk) > LONGEST_S * SAMPLE_RATE
    published = WhisperModel(model_folder(), threads=1)
    (only,) = tuned.heard(talk)
    assert only.found == published.heard(talk).found


def test_a_changed_patch_is_not_loaded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = files("assistant.hear").joinpath("weights/kitchen.npz").read_bytes()
    (tmp_path / "weights").mkdir()
    (tmp_path / "weights" / "kitchen.npz").write_bytes(whole[:-1] + b"\1")
    monkeypatch.setattr(module, "files", lambda _: tmp_path)
    with pytest.raises(ModelSpoiled, match=r"tuned model is spoiled: .*kitchen\.npz"):
        tuned_place()


def test_nothing_is_left_of_putting_it_together(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    TunedModel(threads=1)
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr("assistant.hear.whisper_model.write", full)
    with pytest.raises(EarsMissing, match=r"No space left on device.*make 80 MB free"):
        TunedModel(threads=1)
    assert list(tmp_path.iterdir()) == []


def test_without_the_published_model_there_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.hear.whisper_model.PACKAGE", "no_such_package")
    with pytest.raises(EarsMissing, match="install it with: pip"):
        WhisperEars()
