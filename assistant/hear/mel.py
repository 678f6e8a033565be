"""Sound as Whisper sees it: how strong each of 80 bands of pitch is, a hundred times a second.

Radford and others, "Robust Speech Recognition via Large-Scale Weak Supervision" (2022), section
2.2: 16 kHz, windows of 25 ms (Hann), one every 10 ms, 80 mel bands, logarithms. The bands are those
of Slaney, "Auditory Toolbox", Interval Research Technical Report 1998-010: mels in even steps up to
1 kHz, in even ratios above, each triangle of the same area. Clamping and scaling are those of
Whisper's reference program. `tests/hear/test_mel.py` holds every value against another
implementation.
"""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from assistant.hear.heard import SAMPLE_RATE, Samples

Array = NDArray[np.float32]

FRAMES_A_SECOND = 100
BANDS = 80
_WINDOW, _HOP = 400, 160
_LINEAR_HZ = 200 / 3
"""Width of a mel up to 1 kHz [Hz]."""
_BREAK_HZ, _BREAK = 1000.0, 15.0
_STEP = np.log(6.4) / 27
"""Natural logarithm of the ratio of neighbouring mels above 1 kHz."""
_FLOOR, _RANGE = 1e-10, 8.0
"""Least power that is told from none; decades below the loudest that are kept."""


def log_mel(sound: Samples) -> Array:
    """The bands' strengths (80 bands, frames), about -1 to 1 for speech.

    sound : mono samples at 16 kHz, -1 to 1; the sound is taken to end in nothing
    """
    padded = np.pad(np.asarray(sound, dtype=np.float32), (0, _HOP))
    mirrored = np.pad(padded, _WINDOW // 2, mode="reflect")
    frames = np.lib.stride_tricks.sliding_window_view(mirrored, _WINDOW)[::_HOP][:-1]
    spectrum = np.fft.rfft(frames * _hann(), axis=-1).astype(np.complex64)
    power = np.abs(spectrum.T) ** 2
    logs = np.log10(np.maximum(filters() @ power, np.float32(_FLOOR)))
    kept = np.maximum(logs, logs.max() - np.float32(_RANGE))
    return np.asarray((kept + 4.0) / 4.0, dtype=np.float32)


@cache
def filters() -> Array:
    """How much of each frequency a band takes (80 bands, 201 frequencies from 0 to 8 kHz)."""
    corners = hertz(np.linspace(0.0, mels(SAMPLE_RATE / 2), BANDS + 2))
    frequencies = np.fft.rfftfreq(_WINDOW, 1 / SAMPLE_RATE)
    below, peak, above = corners[:-2, None], corners[1:-1, None], corners[2:, None]
    rising = (frequencies - below) / (peak - below)
    falling = (above - frequencies) / (above - peak)
    triangles = np.maximum(0.0, np.minimum(rising, falling))
    return np.asarray(triangles * 2 / (above - below), dtype=np.float32)


def mels(hz: float) -> float:
    """A frequency [Hz] in mels.

    >>> mels(1000.0), mels(6400.0)
    (15.0, 42.0)
    """
    if hz < _BREAK_HZ:
        return hz / _LINEAR_HZ
    return float(_BREAK + np.log(hz / _BREAK_HZ) / _STEP)


def hertz(mel: NDArray[np.float64]) -> NDArray[np.float64]:
    """Mels as frequencies [Hz].

    >>> hertz(np.array([15.0, 42.0])).tolist()
    [1000.0, 6400.0]
    """
    high = _BREAK_HZ * np.exp(_STEP * (np.maximum(mel, _BREAK) - _BREAK))
    return np.where(mel < _BREAK, mel * _LINEAR_HZ, high)


@cache
def _hann() -> Array:
    return np.hanning(_WINDOW + 1)[:-1].astype(np.float32)
