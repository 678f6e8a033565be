"""Recordings through the real recogniser and the understanding: a sample of the manifest.

The sample is drawn by a checksum of the file names within each kind of voice and level of noise,
so that nobody picked the easy ones; `python -m tests.bench.hearing` runs them all.
"""

import zlib
from collections.abc import Callable, Iterable

import pytest

from assistant.hear.heard import Ears
from tests.bench.hearing import Result, run
from tests.bench.scoring import Clip, clips

pytestmark = pytest.mark.audio

CLEAN_EACH, NOISY_EACH, NONSPEECH, CHATTER = 5, 1, 16, 10
CLEAN_RIGHT = 16
"""Of 20; 19 were measured when this was written, 115 of all 130 clean ones."""
CLEAN_TAKEN = 10
"""Of 20, without asking back; 13 were measured."""


def drawn(found: Iterable[Clip], each: int, by: Callable[[Clip], str]) -> list[Clip]:
    """So many clips of each group, by the checksum of their names."""
    groups: dict[str, list[Clip]] = {}
    for clip in sorted(found, key=lambda clip: zlib.crc32(clip.file.encode())):
        groups.setdefault(by(clip), []).append(clip)
    return [clip for name in sorted(groups) for clip in groups[name][:each]]


SPOKEN = clips(["test"])
CLEAN = drawn(
    [clip for clip in SPOKEN if clip.snr_db is None], CLEAN_EACH, lambda clip: clip.voice_kind
)
NOISY = drawn(
    [clip for clip in SPOKEN if clip.snr_db is not None],
    NOISY_EACH,
    lambda clip: f"{clip.voice_kind} {clip.condition}",
)
NOT_FOR_IT = drawn(clips(["nonspeech"]), NONSPEECH, lambda clip: clip.set) + drawn(
    clips(["chatter"]), CHATTER, lambda clip: clip.set
)


@pytest.fixture(scope="module")
def heard(ears: Ears) -> dict[str, Result]:
    return {clip.file: run(ears, clip) for clip in [*CLEAN, *NOISY, *NOT_FOR_IT]}


def test_the_sample_is_spread_over_voices_and_noise() -> None:
    assert len(CLEAN) == 4 * CLEAN_EACH
    assert len(NOISY) == 12 * NOISY_EACH
    assert len(NOT_FOR_IT) == NONSPEECH + CHATTER


@pytest.mark.parametrize("clip", [*CLEAN, *NOISY], ids=lambda clip: clip.file)
def test_nothing_is_taken_that_was_not_said(clip: Clip, heard: dict[str, Result]) -> None:
    result = heard[clip.file]
    assert result.outcome != "wrong", (clip.words, result.heard, result.taken)


@pytest.mark.parametrize("clip", NOT_FOR_IT, ids=lambda clip: clip.file)
def test_talk_and_noise_lead_to_nothing(clip: Clip, heard: dict[str, Result]) -> None:
    assert heard[clip.file].taken == ()


def test_most_clean_speech_is_understood(heard: dict[str, Result]) -> None:
    outcomes = [heard[clip.file].outcome for clip in CLEAN]
    assert outcomes.count("taken") + outcomes.count("asked") >= CLEAN_RIGHT
    assert outcomes.count("taken") >= CLEAN_TAKEN
