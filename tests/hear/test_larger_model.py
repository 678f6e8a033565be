"""Whisper's base model out of its two wheels, and what the ears make of two models' guesses."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sounds import silence

from assistant.base.data import folder
from assistant.base.errors import EarsMissing
from assistant.hear import larger_model as module
from assistant.hear.audio import read_recording
from assistant.hear.heard import Guess
from assistant.hear.larger_model import NOTHING, PACKAGES, LargerModel, larger_model, larger_place
from assistant.hear.shares import mixed, plain
from assistant.hear.whisper_ears import PROMPT, WhisperEars
from assistant.hear.whisper_model import Place, WhisperModel

pytestmark = pytest.mark.audio

DEGREES = read_recording(
    folder("audio_fixtures").joinpath("test/temperature-seventy_two_degrees-joe.flac")
)


@pytest.fixture(scope="module")
def larger() -> LargerModel:
    return LargerModel(larger_place(), PROMPT)


def test_it_is_put_together_from_its_pieces(larger: LargerModel) -> None:
    found = larger.on(DEGREES)().found
    assert re.fullmatch(r"72 degrees|seventy[- ]two degrees", plain(found[0].text))
    assert all(each.logprob < 0 for each in found)


def test_silence_does_not_run_on(larger: LargerModel) -> None:
    assert all(len(each.text) < 80 for each in larger.on(silence(1.0))().found)


def test_ears_believe_what_both_models_hear(larger: LargerModel) -> None:
    ears = WhisperEars(larger=larger)
    (alone,) = WhisperEars(ears._model.folder).hear(DEGREES)
    (both,) = ears.hear(DEGREES)
    assert {plain(g.text) for g in both.guesses} > {plain(g.text) for g in alone.guesses}
    assert both.sure != alone.sure
    assert sum(g.share for g in both.guesses) <= 1 + 1e-9


@pytest.mark.parametrize("name", ["model.bin.part1", "model.bin.part2", "vocabulary.txt"])
@pytest.mark.parametrize("content", [None, b""], ids=["gone", "empty"])
def test_a_missing_piece_is_said(
    name: str, content: bytes | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    spoil(tmp_path, name, content, monkeypatch)
    with pytest.raises(EarsMissing, match=f"lacks .*{re.escape(name)}; install it with: pip"):
        larger_place()
    assert larger_model(PROMPT) is None


def spoil(target: Path, name: str, content: bytes | None, patch: pytest.MonkeyPatch) -> None:
    """Have the wheels found in a copy with one file spoiled."""
    place = larger_place()
    for package, part in zip(PACKAGES, place.parts, strict=True):
        copy = target / package / "data"
        copy.mkdir(parents=True)
        for path in part.parent.iterdir():
            (copy / path.name).symlink_to(path)
    for found in target.rglob(name):
        found.unlink()
        if content is not None:
            found.write_bytes(content)
    patch.setattr(module, "_data_of", lambda package: target / package / "data")


def test_missing_wheels_are_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PACKAGES", ("no_such_package_of_models", PACKAGES[1]))
    with pytest.raises(EarsMissing, match="not installed; install it with: pip install gym"):
        larger_place()
    assert larger_model(PROMPT) is None


def test_a_damaged_model_is_done_without(tmp_path: Path) -> None:
    place = larger_place()
    broken = tmp_path / "model.bin.part2"
    broken.write_bytes(b"not the end of a model")
    damaged = Place(place.folder, (place.parts[0], broken))
    with pytest.raises(EarsMissing, match="can't be loaded"):
        WhisperModel(damaged)
    ears = WhisperEars(larger=LargerModel(damaged, PROMPT))
    assert LargerModel(damaged, PROMPT).on(DEGREES)() == NOTHING
    assert len(ears.hear(DEGREES)) == 1


def test_a_model_that_fails_at_work_is_done_without(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("out of memory")

    larger = LargerModel(larger_place(), PROMPT)
    monkeypatch.setattr(larger._model.result(), "heard", fail)
    assert larger.on(DEGREES)() == NOTHING


GUESSES = st.lists(
    st.tuples(st.sampled_from(["60.", "60", "Sixty", "16."]), st.floats(0, 0.25)), max_size=4
).map(lambda pairs: tuple(Guess(text=text, share=share) for text, share in pairs))


@given(st.lists(GUESSES, min_size=1, max_size=3))
def test_mixing_keeps_the_shares(lists: list[tuple[Guess, ...]]) -> None:
    found = mixed(*lists)
    told = sum(guess.share for guesses in lists for guess in guesses)
    assert sum(guess.share for guess in found) == pytest.approx(told / len(lists))
    assert len({plain(guess.text) for guess in found}) == len(found)
    assert [g.share for g in found] == sorted((g.share for g in found), reverse=True)
