"""How much one sound is an echo of another: their spectra, moment by moment, at any delay."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from assistant.hear.heard import SAMPLE_RATE, Samples

_FRAME = 512
_HOP = 128
_RANGE_DB = 50.0
_EDGES = np.geomspace(120.0, 5000.0, 19)
"""Edges of the bands that are compared, where speech has its power [Hz]."""


def likeness(echo: Samples, source: Samples) -> float:
    """Largest correlation of the two sounds' band levels over all delays of the echo [-1 to 1].

    source : longer than the echo by the largest delay, and ending with it
    Only the change of each band's level counts, so a room's colour and a loudspeaker's faults
    do not hide an echo. 0 where either is silent or shorter than a frame.

    >>> noise = np.random.default_rng(1).standard_normal(16000).astype(np.float32)
    >>> noise *= np.repeat(np.random.default_rng(2).random(100), 160).astype(np.float32)
    >>> likeness(noise[4000:12000] / 3, noise) > 0.9
    True
    """
    heard, given = _levels(echo), _levels(source)
    heard = heard - heard.mean(axis=0) if len(heard) else heard
    best = 0.0
    for delay in range(len(given) - len(heard) + 1 if len(heard) else 0):
        part = given[delay : delay + len(heard)]
        part = part - part.mean(axis=0)
        scale = float(np.sqrt(np.sum(heard**2) * np.sum(part**2)))
        if scale > 0:
            best = max(best, float(np.sum(heard * part)) / scale)
    return best


def _bands() -> NDArray[np.float64]:
    """Which lines of the spectrum belong to which band, as a mean."""
    lines = np.fft.rfftfreq(_FRAME, 1 / SAMPLE_RATE)
    inside = [(lines >= a) & (lines < b) for a, b in pairwise(_EDGES)]
    table = np.array(inside, dtype=np.float64)
    return np.asarray(table / np.maximum(table.sum(axis=1, keepdims=True), 1.0))


_TABLE = _bands()


def _levels(sound: Samples) -> NDArray[np.float64]:
    """Level of each band in each frame [dB], nothing below the loudest less a range."""
    if len(sound) < _FRAME:
        return np.zeros((0, len(_TABLE)))
    frames = np.lib.stride_tricks.sliding_window_view(sound, _FRAME)[::_HOP]
    power = np.abs(np.fft.rfft(frames * np.hanning(_FRAME))) ** 2 @ _TABLE.T
    level = 10.0 * np.log10(power + 1e-10)
    return np.asarray(np.maximum(level, level.max() - _RANGE_DB))
