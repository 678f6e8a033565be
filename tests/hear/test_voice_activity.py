"""The gate: speech passes, noise does not, and an utterance ends where the cook ends it."""

import itertools
import shutil
import sys
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pytest
from by_faster_whisper import KEPT, recording
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from sounds import (
    after_silence,
    at_snr,
    boiling,
    cut_up,
    fan,
    segments,
    shaped,
    silence,
    spoken,
    white,
)

from assistant.base.data import folder
from assistant.base.errors import EarsMissing, ModelSpoiled
from assistant.commands.demo import script
from assistant.hear import voice_activity
from assistant.hear.audio import read_recording
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.voice_activity import (
    FRAME,
    Endpointer,
    Pauses,
    Piece,
    SpeechMeter,
    detector,
    pieces,
    utterances,
)

STEP_S = FRAME / SAMPLE_RATE


class ToldMeter(SpeechMeter):
    """A meter that calls a step speech when its first sample says so."""

    def __init__(self) -> None:
        """Load no model."""

    def __call__(self, samples: Samples) -> NDArray[np.float32]:
        return samples.reshape(-1, FRAME)[:, 0].copy()


def told(probabilities: list[float]) -> Samples:
    return np.repeat(np.array(probabilities, dtype=np.float32), FRAME)


@dataclass
class Told:
    """What an endpointer made of given probabilities."""

    probabilities: list[float]
    pauses: Pauses = field(default_factory=Pauses)
    block: int = FRAME

    def pieces(self) -> list[Piece]:
        endpointer = Endpointer(self.pauses, ToldMeter())
        blocks = cut_up(told(self.probabilities), self.block)
        fed = [piece for block in blocks for piece in endpointer.feed(block)]
        return fed + endpointer.finish()

    def spans(self) -> list[tuple[int, int]]:
        """First and one past the last step of each utterance, the closing pause included."""
        found, start = [], 0
        for begins, piece in zip(self._begins(), self.pieces(), strict=True):
            start = piece.start if begins else start
            if piece.last:
                found.append((start // FRAME, (piece.start + len(piece.samples)) // FRAME))
        return found

    def _begins(self) -> list[bool]:
        lasts = [piece.last for piece in self.pieces()]
        return [True, *lasts][: len(lasts)]


NO, YES = [0.0], [1.0]
BEFORE, ONSET, PAUSE = 9, 4, 22
"""The default pre-roll, onset and pause in steps of 32 ms."""


@pytest.mark.parametrize(
    ("probabilities", "spans"),
    [
        (NO * 60, []),
        (NO * 20 + YES * (ONSET - 1) + NO * 40, []),
        (NO * 20 + [0.7] * 20 + NO * 40, []),
        (NO * 20 + YES * ONSET + NO * 40, [(11, 24 + PAUSE)]),
        (NO * 20 + YES * 10 + NO * 40, [(20 - BEFORE, 30 + PAUSE)]),
        (NO * 3 + YES * 10 + NO * 40, [(0, 13 + PAUSE)]),
        (YES * 10, [(0, 10)]),
        (NO * 20 + YES * 10 + NO * (PAUSE - 1) + YES * 5 + NO * 40, [(11, 56 + PAUSE)]),
        (
            NO * 20 + YES * 10 + NO * (PAUSE + 10) + YES * 5 + NO * 40,
            [(11, 30 + PAUSE), (62 - BEFORE, 67 + PAUSE)],
        ),
        (NO * 20 + YES * 10 + [0.4] * 5 + NO * 40, [(11, 35 + PAUSE)]),
        (NO * 20 + YES * 10 + NO * 2 + [0.4] * 40, [(11, 30 + PAUSE)]),
    ],
    ids=[
        "nothing", "a click", "unlikely", "short", "one", "at once", "till the end",
        "pause within", "two", "fading", "fading after a pause",
    ],
)  # fmt: skip
def test_where_utterances_begin_and_end(
    probabilities: list[float], spans: list[tuple[int, int]]
) -> None:
    assert Told(probabilities).spans() == spans


def test_an_endless_utterance_is_cut_and_says_so() -> None:
    pauses = Pauses(longest=100 * STEP_S)
    found = [piece for piece in Told(YES * 250, pauses).pieces() if piece.last]
    assert [piece.cut for piece in found] == [True, True, False]
    assert Told(YES * 250, pauses).spans() == [(0, 100), (100, 200), (200, 250)]


@settings(max_examples=50)
@given(st.lists(st.sampled_from([0.0, 0.4, 1.0]), max_size=120), st.integers(100, 3000))
def test_blocks_of_any_length_give_the_same_pieces(probabilities: list[float], block: int) -> None:
    def sound(each: Told) -> list[float]:
        return np.concatenate([p.samples for p in each.pieces()] or [told([])]).tolist()

    whole = Told(probabilities, block=max(1, len(probabilities)) * FRAME)
    parted = Told(probabilities, block=block)
    assert parted.spans() == whole.spans()
    assert sound(parted) == sound(whole)


@given(st.lists(st.sampled_from([0.0, 0.4, 1.0]), max_size=300))
def test_utterances_never_overlap_and_lie_within_the_sound(probabilities: list[float]) -> None:
    spans = Told(probabilities, Pauses(longest=40 * STEP_S)).spans()
    places = list(itertools.chain.from_iterable(spans))
    assert places == sorted(places)
    assert all(start < end <= len(probabilities) for start, end in spans)
    assert all(end - start <= 40 for start, end in spans)


SPEECH = spoken("seventy two degrees")


@pytest.mark.parametrize("sizes", [(512,), (1024,), (160,), (1, 7, 3000)])
def test_the_meter_remembers_from_block_to_block(sizes: tuple[int, ...]) -> None:
    """Step by step and all at once must give the same, or a stream is heard differently."""
    sound = after_silence(SPEECH, gap=0.4)
    sound = sound[: len(sound) - len(sound) % FRAME]
    steps = [size * FRAME for size in sizes]
    meter, parted, at = SpeechMeter(), [], 0
    for size in itertools.cycle(steps):
        if at >= len(sound):
            break
        parted.append(meter(sound[at : at + size]))
        at += size
    assert np.concatenate(parted) == pytest.approx(SpeechMeter()(sound), abs=1e-6)


def test_the_meter_agrees_with_another_wrapper_of_the_model() -> None:
    """faster-whisper 1.2.1, by `by_faster_whisper`."""
    with np.load(KEPT) as values:
        assert SpeechMeter()(recording()) == pytest.approx(values["speech"].ravel(), abs=1e-6)


@pytest.mark.parametrize(
    "noise",
    [
        silence(6),
        white(6, 0.001),
        white(6, 0.1),
        shaped(6, 0.1, 1.0),
        fan(6, 0.02),
        fan(6, 0.3),
        boiling(6, 0.05),
        boiling(6, 0.4),
        np.full(6 * SAMPLE_RATE, 0.2, dtype=np.float32),
    ],
    ids=[
        "silence", "hiss", "loud hiss", "rain", "fan", "loud fan", "boiling", "loud boiling",
        "offset",
    ],
)  # fmt: skip
def test_noise_does_not_pass(noise: Samples) -> None:
    assert segments(noise) == []
    assert list(pieces(cut_up(noise, 1024))) == []


@pytest.mark.parametrize("seed", range(100, 108))
def test_no_boiling_pan_passes(seed: int) -> None:
    """Its bubbles come nearest to speech of all the noises of the kitchen."""
    assert segments(boiling(10, 0.3, seed)) == []


@pytest.mark.parametrize("text", ["yes", "no", "done", "eight", "seventy two degrees"])
def test_speech_passes(text: str) -> None:
    sound = spoken(text)
    found = segments(after_silence(sound, gap=1.0))
    assert len(found) == 1
    start, end = found[0]
    assert start <= SAMPLE_RATE
    assert end >= SAMPLE_RATE + len(sound) - 0.1 * SAMPLE_RATE


@pytest.mark.parametrize("decibels", [20, 10, 5])
@pytest.mark.parametrize("kind", ["rain", "fan", "boiling"])
def test_speech_passes_in_noise(kind: str, decibels: float) -> None:
    noise = {"rain": shaped(4, 0.1, 1.0), "fan": fan(4), "boiling": boiling(4)}[kind]
    assert segments(at_snr(SPEECH, noise, decibels)) != []


@pytest.mark.parametrize(("gap", "count"), [(0.3, 1), (0.5, 1), (1.5, 2)])
def test_a_pause_within_a_number_does_not_cut_it(gap: float, count: int) -> None:
    sound = np.concatenate([silence(1), spoken("one point"), silence(gap), spoken("two kilos")])
    assert len(segments(np.concatenate([sound, silence(1)]))) == count


def test_a_stream_gives_the_same_utterances_as_the_recording() -> None:
    sound = after_silence(SPEECH, spoken("done"))
    streamed = list(utterances(cut_up(sound, 1000)))
    assert [(each.start, each.end) for each in streamed] == segments(sound)
    for each in streamed:
        assert np.array_equal(each.samples, sound[each.start : each.end])


def test_an_utterance_is_given_before_the_stream_ends() -> None:
    used = 0

    def blocks() -> itertools.chain[Samples]:
        nonlocal used
        for block in cut_up(after_silence(SPEECH, silence(20)), 1024):
            used += 1
            yield block

    next(iter(utterances(blocks())))
    spoken_till = SAMPLE_RATE * 1.2 + len(SPEECH)
    assert used * 1024 / SAMPLE_RATE == pytest.approx(spoken_till / SAMPLE_RATE + 0.7, abs=0.3)


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the detector's model is looked for, with a copy of it."""
    copy = tmp_path / "weights" / detector().name
    copy.parent.mkdir()
    shutil.copy(detector(), copy)
    monkeypatch.setattr(voice_activity, "files", lambda _: tmp_path)
    return copy


def test_a_missing_detector_is_said(elsewhere: Path) -> None:
    elsewhere.unlink()
    with pytest.raises(EarsMissing, match="is missing; install it again with: pip"):
        SpeechMeter()


def test_a_changed_detector_is_not_loaded(elsewhere: Path) -> None:
    SpeechMeter()
    elsewhere.write_bytes(elsewhere.read_bytes()[:-1] + b"\1")
    with pytest.raises(ModelSpoiled, match="voice detector's model is spoiled"):
        SpeechMeter()


def test_a_detector_that_can_not_be_run_is_said(
    elsewhere: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    assert elsewhere.is_file()
    with pytest.raises(EarsMissing, match="can't be loaded"):
        SpeechMeter()


@settings(max_examples=20)
@given(st.integers(0, 2000))
def test_short_recordings_are_no_trouble(length: int) -> None:
    assert segments(np.zeros(length, dtype=np.float32)) == []


@pytest.mark.parametrize("quiet_s", [0.5, 5.0, 45.0])
def test_a_short_word_is_found_however_long_it_was_quiet(quiet_s: float) -> None:
    words = [row for row in script() if row["words"] in ("done", "yes", "no")]
    first = read_recording(folder("audio_fixtures").joinpath(script()[0]["file"]))
    lost = 0
    for row in words:
        word = read_recording(folder("audio_fixtures").joinpath(row["file"]))
        sound = np.concatenate([first, hush(quiet_s), word, hush(1.0)])
        begun = [start for start, _ in segments(sound)]
        lost += not any(start > len(first) + quiet_s * SAMPLE_RATE - SAMPLE_RATE for start in begun)
    assert len(words) > 10
    assert lost <= 1


def hush(seconds: float) -> Samples:
    """A quiet room: hiss at -54 dB of full scale."""
    random = np.random.default_rng(1)
    return (0.002 * random.standard_normal(int(seconds * SAMPLE_RATE))).astype(np.float32)


def test_what_is_fed_in_any_blocks_is_metered_alike() -> None:
    sound = np.concatenate([hush(3.0), spoken("done")[: 40 * FRAME], hush(3.0)])
    sound = sound[: len(sound) // FRAME * FRAME]
    whole, meter = SpeechMeter()(sound), SpeechMeter()
    steps = [meter(sound[i : i + 3 * FRAME]) for i in range(0, len(sound), 3 * FRAME)]
    assert np.concatenate(steps) == pytest.approx(whole, abs=1e-5)
