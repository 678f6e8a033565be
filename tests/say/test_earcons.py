"""Short sounds: quiet, short, without clicks, and to be told apart without an ear for pitch."""

from itertools import combinations

import numpy as np
import pytest

from assistant.say.earcons import LONGEST, NAMES, RATE, EarconName, before, earcon


def _strokes(name: EarconName) -> list[float]:
    """Lengths of the stretches of sound, parted by 30 ms of quiet or more [s]."""
    loud = np.abs(earcon(name).astype(float)) > 60
    at = np.flatnonzero(loud)
    parts = np.split(at, np.flatnonzero(np.diff(at) > 0.03 * RATE) + 1)
    return [len(part) and float(part[-1] - part[0]) / RATE for part in parts]


@pytest.mark.parametrize("name", NAMES)
def test_it_is_short_quiet_and_begins_and_ends_softly(name: EarconName) -> None:
    sound = earcon(name).astype(float) / 32767
    assert len(sound) / RATE <= LONGEST
    assert 0.05 < np.max(np.abs(sound)) < 0.15
    assert abs(sound[0]) < 0.01
    assert abs(sound[-1]) < 0.01
    assert np.max(np.abs(np.diff(sound))) < 0.1, "a click"


@pytest.mark.parametrize(("one", "other"), [*combinations(NAMES, 2)])
def test_two_differ_in_more_than_pitch(one: EarconName, other: EarconName) -> None:
    first, second = _strokes(one), _strokes(other)
    many = len(first) != len(second)
    longer = max(first[0], second[0]) > 2 * min(first[0], second[0])
    assert many or longer


def test_the_same_every_time() -> None:
    assert earcon("heard") is earcon("heard")


@pytest.mark.parametrize("rate", [8_000, 22_050, 48_000])
def test_it_stands_before_what_is_said_at_its_rate(rate: int) -> None:
    words = np.full(100, 7, np.int16)
    sound = before(words, rate, "heard")
    assert np.array_equal(sound[-100:], words)
    assert (len(sound) - 100) / rate == pytest.approx(len(earcon("heard")) / RATE + 0.06, abs=0.01)


def test_alone_it_has_no_breath_after_it() -> None:
    alone = before(np.zeros(0, np.int16), RATE, "question")
    assert np.array_equal(alone, earcon("question"))
