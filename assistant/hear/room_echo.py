"""How a room gives our voice back, learnt from sound in which nobody else spoke.

The echo canceller that runs all the time hushes whoever speaks over our voice as well. A plain
linear filter does not: it is fitted once, by least squares, when somebody is found to speak.
"""

import numpy as np
from numpy.typing import NDArray

from assistant.hear.heard import SAMPLE_RATE, Samples

LONGEST = 0.4
"""Delay and echo together that the filter covers. [s]"""
LEAST = 0.7
"""Sound that is needed to learn from; with more it learns more. [s]"""
LEAD = 0.01
"""How much later than told our voice may really have been played. [s]"""
_TAPS = round(LONGEST * SAMPLE_RATE)
_ROUNDS = 20
_EASE = 1e-3
"""Share of our voice's power that keeps the filter small where our voice has none. [-]"""


class RoomEcho:
    """A filter from what was played to what came back.

    played, heard : sound of the same time, with nobody speaking
    """

    def __init__(self, played: Samples, heard: Samples) -> None:
        source, wanted = _early(played), np.asarray(heard, dtype=np.float64)
        self._size = 1 << int(np.ceil(np.log2(len(source) + _TAPS)))
        self._spectrum = np.fft.rfft(source, self._size)
        self._ease = _EASE * float(source @ source) + 1e-12
        self._taps = self._fitted(wanted)

    def without(self, played: Samples, heard: Samples) -> Samples:
        """What was heard less our voice; both end together, what was played may begin earlier."""
        source = _early(played)
        size = 1 << int(np.ceil(np.log2(len(source) + _TAPS)))
        back = np.fft.irfft(np.fft.rfft(source, size) * np.fft.rfft(self._taps, size), size)
        return np.asarray(heard - back[len(source) - len(heard) : len(source)], dtype=np.float32)

    def _fitted(self, wanted: NDArray[np.float64]) -> NDArray[np.float64]:
        """Least squares by conjugate gradients, every product with our voice a convolution."""
        taps = np.zeros(_TAPS)
        left = self._back(wanted)
        way, power = left.copy(), float(left @ left)
        for _ in range(_ROUNDS):
            if power <= 0.0:
                break
            pushed = self._back(self._forth(way, len(wanted))) + self._ease * way
            step = power / float(way @ pushed)
            taps += step * way
            left -= step * pushed
            before, power = power, float(left @ left)
            way = left + power / before * way
        return taps

    def _forth(self, taps: NDArray[np.float64], count: int) -> NDArray[np.float64]:
        return np.fft.irfft(self._spectrum * np.fft.rfft(taps, self._size), self._size)[:count]

    def _back(self, sound: NDArray[np.float64]) -> NDArray[np.float64]:
        spectrum = np.conj(self._spectrum) * np.fft.rfft(sound, self._size)
        return np.fft.irfft(spectrum, self._size)[:_TAPS]


def _early(played: Samples) -> NDArray[np.float64]:
    """Our voice a little sooner than told, so that a filter that can't look ahead finds it."""
    lead = round(LEAD * SAMPLE_RATE)
    return np.concatenate([played[lead:], np.zeros(min(lead, len(played)))]).astype(np.float64)
