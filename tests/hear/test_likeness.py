"""An echo is told from another voice by how its bands rise and fall."""

import numpy as np
import pytest
from rooms import Walls
from sounds import silence, spoken, white

from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.likeness import likeness

OURS = spoken("Crush the fruit with six hundred grams of sugar, and say done.")
COOKS = spoken("how many bottles will that make", "gmw/en-gb-x-rp")


def _echo(delay: float, level: float) -> Samples:
    response = Walls(delay, 0.3, level).response(np.random.default_rng(3))
    return np.convolve(OURS, response)[: len(OURS)].astype(np.float32)


@pytest.mark.parametrize("delay", [0.0, 0.05, 0.3])
@pytest.mark.parametrize("level", [0.0, -30.0])
def test_an_echo_is_like_its_source_whatever_its_delay_and_level(
    delay: float, level: float
) -> None:
    start = SAMPLE_RATE
    echo = _echo(delay, level)[start : start + 7168]
    assert likeness(echo, OURS[start - 8192 : start + 7168]) > 0.7


def test_another_voice_is_less_like_it() -> None:
    start = SAMPLE_RATE
    found = [
        likeness(COOKS[at : at + 7168], OURS[start - 8192 : start + 7168])
        for at in range(0, len(COOKS) - 7168, 2048)
    ]
    assert np.median(found) < 0.5


@pytest.mark.parametrize("sound", [silence(0), silence(0.01), silence(0.4)])
def test_silence_is_like_nothing(sound: Samples) -> None:
    assert likeness(sound, white(1.0, 0.1)) == 0.0
    assert likeness(white(0.4, 0.1), sound) == 0.0
