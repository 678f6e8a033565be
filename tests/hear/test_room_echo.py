"""A room's echo is learnt from our own voice and taken away, whoever speaks."""

import numpy as np
import pytest
from rooms import ROOMS, Kitchen
from sounds import spoken, white

from assistant.hear.audio import loudness, to_pcm16
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.room_echo import RoomEcho

OURS = spoken("Crush the fruit with six hundred grams of sugar, and say done when it is crushed.")


def played_and_heard(name: str) -> tuple[Samples, Samples]:
    """Four seconds of our voice, as the player tells it and as the microphone has it."""
    kitchen = Kitchen(ROOMS[name], seed=2)
    kitchen.play(np.frombuffer(to_pcm16(OURS), np.int16), SAMPLE_RATE)
    heard = np.concatenate([*kitchen.blocks(4.0)])
    sounding = kitchen.sounding()
    assert sounding is not None
    assert sounding.since is not None
    late = round(sounding.since * SAMPLE_RATE)
    told = np.concatenate([np.zeros(max(late, 0), np.float32), OURS[max(-late, 0) :]])
    return told[: len(heard)], heard


@pytest.mark.parametrize("name", sorted(ROOMS))
def test_most_of_our_voice_is_taken_away_later_on_too(name: str) -> None:
    played, heard = played_and_heard(name)
    learnt = slice(0, 40_000)
    echo = RoomEcho(played[learnt], heard[learnt])
    left = echo.without(played, heard)[44_000:]
    assert loudness(left) < loudness(heard[44_000:]) - 6


def test_another_voice_stays_as_it_is() -> None:
    played, heard = played_and_heard("kitchen")
    cook = white(0.5, 0.05)
    over = heard.copy()
    over[-len(cook) :] += cook
    echo = RoomEcho(played[:40_000], heard[:40_000])
    left = echo.without(played, over)[-len(cook) :]
    assert loudness(left - cook) < loudness(cook) - 6


def test_silence_teaches_nothing_and_takes_nothing() -> None:
    silent, sound = np.zeros(16_000, np.float32), white(1.0, 0.1)
    assert np.array_equal(RoomEcho(silent, sound).without(silent, sound), sound)
