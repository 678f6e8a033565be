"""The room between mouth and microphone: noise that dies away, after the direct sound.

The reverberant tail is white noise under an exponential decay (Polack, La transmission de l'énergie
sonore dans les salles, 1988; from memory), its strength follows from the distance against the
critical distance 0.057 sqrt(Q V / T60) [m] (Kuttruff, Room Acoustics; from memory). Q is 2 for
a person who speaks towards the microphone (from memory).
"""

import math
from dataclasses import dataclass

import numpy as np

from tests.bench.corpus.fixture_tools import Sound


@dataclass(frozen=True)
class Place:
    """How far the microphone is [m], and the room: volume [m3], time to fall by 60 dB [s]."""

    metres: float
    volume: float = 30.0
    seconds: float = 0.4


PLACES = {"near": Place(0.4), "far": Place(2.0, seconds=0.5)}
_TOWARDS = 2.0
_BEFORE_TAIL = 0.004
"""Seconds until the first walls answer."""


def direct_to_reverberant(place: Place) -> float:
    """Direct against reverberant sound [dB].

    >>> round(direct_to_reverberant(Place(0.4)), 1), round(direct_to_reverberant(Place(2.0)), 1)
    (4.8, -9.2)
    """
    critical = 0.057 * math.sqrt(_TOWARDS * place.volume / place.seconds)
    return 20 * math.log10(critical / place.metres)


def response(place: Place, rate: int, rng: np.random.Generator) -> Sound:
    """What the room makes of a click: the click, then a tail of the right strength."""
    size = int(place.seconds * rate)
    time = np.arange(size) / rate
    tail = rng.standard_normal(size) * np.exp(-math.log(1000) * time / place.seconds)
    tail[: int(_BEFORE_TAIL * rate)] = 0.0
    strength = 10 ** (-direct_to_reverberant(place) / 20)
    tail *= strength / math.sqrt(float(np.sum(np.square(tail))))
    tail[0] = 1.0
    return np.asarray(tail, dtype=np.float64)


def heard_at(sound: Sound, place: Place, rate: int, rng: np.random.Generator) -> Sound:
    """The sound as it reaches the microphone, as long as before."""
    room = response(place, rate, rng)
    size = sound.size + room.size - 1
    spectrum = np.fft.rfft(sound, size) * np.fft.rfft(room, size)
    return np.asarray(np.fft.irfft(spectrum, size)[: sound.size], dtype=np.float64)
