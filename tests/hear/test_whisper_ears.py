"""Whisper itself, on speech made by espeak: what comes out, and how sure it claims to be."""

import re
import socket
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from sounds import after_silence, at_snr, boiling, cut_up, fan, shaped, silence, spoken

from assistant.base.errors import EarsMissing
from assistant.hear import whisper_model
from assistant.hear.endings import OPEN_PAUSE
from assistant.hear.heard import Heard, Samples
from assistant.hear.shares import plain
from assistant.hear.voice_activity import Pauses, Utterance
from assistant.hear.whisper_ears import WhisperEars, _no_speech
from assistant.hear.whisper_model import (
    WINDOW_S,
    Hypotheses,
    Hypothesis,
    WhisperModel,
    checked,
    model_folder,
)

pytestmark = pytest.mark.audio

DEGREES = after_silence(spoken("seventy two degrees"))


@pytest.fixture(scope="module")
def degrees(whisper_ears: WhisperEars) -> Heard:
    (heard,) = whisper_ears.hear(DEGREES)
    return heard


@pytest.mark.parametrize(
    ("text", "pattern"),
    [
        ("seventy two degrees", r"72 degrees|seventy[- ]two degrees"),
        ("stop the timer", r"stop the timer"),
        ("how much sugar", r"how much sugar"),
        ("twelve bottles", r"(12|twelve) bottles"),
    ],
)
def test_what_is_said_is_heard(whisper_ears: WhisperEars, text: str, pattern: str) -> None:
    (heard,) = whisper_ears.hear(after_silence(spoken(text)))
    assert any(re.fullmatch(pattern, plain(guess.text)) for guess in heard.guesses), heard.text
    assert heard.engine == "whisper"
    assert not heard.partial
    assert heard.text == heard.guesses[0].text
    assert 0.3 < heard.sure <= 1
    assert heard.seconds > 0


def test_guesses_are_several_and_ordered(whisper_ears: WhisperEars) -> None:
    (heard,) = whisper_ears.hear(after_silence(spoken("three point one")))
    shares = [guess.share for guess in heard.guesses]
    assert len(shares) > 1
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) <= 1 + 1e-6
    assert len({plain(guess.text) for guess in heard.guesses}) == len(shares)


def test_noise_makes_it_less_sure(whisper_ears: WhisperEars, degrees: Heard) -> None:
    noisy = whisper_ears.hear(at_snr(spoken("seventy two degrees"), shaped(4, 0.1, 1.0), 0))
    assert all(heard.sure < degrees.sure for heard in noisy)
    assert all(heard.guesses[0].share < degrees.guesses[0].share for heard in noisy)


def test_utterances_come_in_order_and_at_their_ends(whisper_ears: WhisperEars) -> None:
    used = 0

    def blocks() -> Iterator[Samples]:
        nonlocal used
        for block in cut_up(after_silence(spoken("how much sugar"), DEGREES, silence(20)), 1024):
            used += 1
            yield block

    listening = whisper_ears.listen(blocks())
    assert plain(next(listening).text) == "how much sugar"
    first = used
    assert "degrees" in next(listening).text
    assert first < used < (3 * 16_000 + len(DEGREES) + 4 * 16_000) / 1024
    assert list(listening) == []


def test_a_pause_within_a_number_does_not_cut_it(whisper_ears: WhisperEars) -> None:
    """The pause is longer than the one that ends an utterance."""
    pause = silence(0.9)
    assert Pauses().pause < 0.9 < OPEN_PAUSE
    said = (spoken("two hundred and"), pause, spoken("fifty grams"))
    (heard,) = whisper_ears.hear(after_silence(np.concatenate(said), gap=2.0))
    assert any(plain(g.text) in ("250 grams", "200 and 50 grams") for g in heard.guesses)


def test_a_stream_is_heard_as_the_recording_is(whisper_ears: WhisperEars, degrees: Heard) -> None:
    (streamed,) = whisper_ears.listen(iter(cut_up(DEGREES, 700)))
    assert streamed.guesses == degrees.guesses
    assert streamed.sure == degrees.sure


@pytest.mark.parametrize(
    "noise",
    [silence(3), fan(3, 0.3), boiling(3, 0.3), shaped(3, 0.1, 1.0), silence(0)],
    ids=["silence", "fan", "boiling", "rain", "nothing"],
)
def test_noise_gives_nothing(whisper_ears: WhisperEars, noise: Samples) -> None:
    assert whisper_ears.hear(noise) == []


@pytest.mark.parametrize("noise", [silence(2), fan(2, 0.3), boiling(2, 0.3)])
def test_noise_that_got_past_the_gate_is_dropped(whisper_ears: WhisperEars, noise: Samples) -> None:
    """The model writes words for it, so its own doubt has to hold it back."""
    found, *_ = whisper_ears._hear(noise)
    assert any(plain(each.text) for each in found.found)
    assert whisper_ears._recognise(Utterance(noise, 0)) is None


def test_words_that_are_certain_are_kept_though_it_doubts_speech() -> None:
    """As it doubts single digits in a human voice."""
    sure, faint = Hypothesis("40.", -1.8, -0.9), Hypothesis("40.", -2.4, -1.2)
    assert not _no_speech(Hypotheses((sure,), 0.9))
    assert _no_speech(Hypotheses((faint,), 0.9))
    assert not _no_speech(Hypotheses((faint,), 0.4))
    assert _no_speech(Hypotheses((), 0.1))


def test_what_was_cut_is_not_believed(whisper_ears: WhisperEars) -> None:
    folder = whisper_ears._model.folder
    ears = WhisperEars(folder, pauses=Pauses(longest=1.0))
    first = next(ears.listen(iter([after_silence(spoken("four hundred and eighty grams"))])))
    assert first.sure == 0


def test_a_phrase_list_changes_nothing(whisper_ears: WhisperEars, degrees: Heard) -> None:
    whisper_ears.expect(("raspberry",))
    assert [heard.guesses for heard in whisper_ears.hear(DEGREES)] == [degrees.guesses]


@pytest.fixture(scope="module")
def published() -> WhisperModel:
    return WhisperModel(model_folder())


def test_scores_are_logarithms_of_the_whole_text(published: WhisperModel) -> None:
    found = published.likeliest(published.encode(DEGREES)).found
    assert [each.logprob for each in found] == sorted((e.logprob for e in found), reverse=True)
    assert all(each.logprob < 0 for each in found)
    assert sum(np.exp(each.logprob) for each in found) < 1
    assert all(each.logprob <= each.average < 0 for each in found)


def test_sound_longer_than_the_window_is_no_trouble(published: WhisperModel) -> None:
    long = np.tile(DEGREES, 14)
    assert len(long) > 30 * 16_000
    assert published.encode(long).shape[1] == 50 * WINDOW_S


def test_nothing_is_asked_of_the_network(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise AssertionError("a connection was tried")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    assert WhisperEars().hear(DEGREES) != []


def linked(folder: Path, model: Path) -> Path:
    """A copy of a model's folder that can be spoiled."""
    folder.mkdir()
    for path in model.iterdir():
        (folder / path.name).symlink_to(path)
    return folder


@pytest.mark.parametrize("name", ["model.bin", "config.json", "tokenizer.json", "vocabulary.txt"])
@pytest.mark.parametrize("content", [None, b""], ids=["gone", "empty"])
def test_a_folder_that_lacks_a_part_is_refused(
    name: str, content: bytes | None, tmp_path: Path
) -> None:
    folder = linked(tmp_path / "model", model_folder())
    (folder / name).unlink()
    if content is not None:
        (folder / name).write_bytes(content)
    with pytest.raises(EarsMissing, match=f"lacks {re.escape(name)}; install it with"):
        checked(folder)


@pytest.mark.parametrize("name", ["model.bin", "tokenizer.json"])
def test_a_damaged_model_is_refused(name: str, tmp_path: Path) -> None:
    folder = linked(tmp_path / "model", model_folder())
    half = (folder / name).read_bytes()[:5000]
    (folder / name).unlink()
    (folder / name).write_bytes(half)
    with pytest.raises(EarsMissing, match="can't be loaded"):
        WhisperModel(folder)


def test_a_missing_package_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whisper_model, "PACKAGE", "no_such_package_of_models")
    with pytest.raises(EarsMissing, match="not installed; install it with"):
        model_folder()
