"""How loud, over what noise: on sound whose level is known."""

import numpy as np
import pytest
from sounds import after_silence, spoken, white

from assistant.hear.audio import loudness
from assistant.hear.sound_level import SoundLevel, level_of, noise_of, together

SPEECH = spoken("seventy two degrees")


@pytest.mark.parametrize("level", [0.001, 0.01, 0.1])
def test_noise_is_told_as_loud_as_it_is(level: float) -> None:
    assert noise_of(white(2.0, level)) == pytest.approx(20 * np.log10(level), abs=0.5)


def test_a_bang_is_no_noise_of_the_room() -> None:
    quiet = white(2.0, 0.001)
    quiet[8000:9000] = 0.9
    assert noise_of(quiet) == pytest.approx(-60, abs=0.5)


def test_no_sound_at_all_is_told_as_silence() -> None:
    assert noise_of(np.zeros(0, np.float32)) == -120
    found = level_of(np.zeros(1, np.float32), -120)
    assert (found.speech, found.peak, found.clipped) == (-120, -120, False)


@pytest.mark.parametrize("decibels", [0, -20, -50])
def test_speech_is_told_by_its_own_level(decibels: float) -> None:
    """The last one is too quiet for the voice detector, so the loudest half second counts."""
    sound = after_silence(SPEECH) * np.float32(10 ** (decibels / 20))
    found = level_of(sound, -90)
    assert found.speech == pytest.approx(loudness(SPEECH) + decibels, abs=4)
    assert found.peak == pytest.approx(20 * np.log10(np.abs(SPEECH).max()) + decibels, abs=0.1)
    assert found.above == found.speech + 90
    assert not found.clipped


def test_an_overdriven_microphone_is_told() -> None:
    assert level_of(np.clip(after_silence(SPEECH) * 20, -1, 1), -90).clipped


def test_of_several_the_middle_and_the_largest_peak_count() -> None:
    told = ((-30, -9, False), (-40, -3, True), (-20, -8, False))
    levels = [SoundLevel(speech, -60, peak, clipped) for speech, peak, clipped in told]
    assert together(levels) == SoundLevel(-30, -60, -3, True)
