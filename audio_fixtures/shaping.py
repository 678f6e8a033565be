"""From a spoken text to a recording: another rate, the ends cut, a level, noise underneath."""

import numpy as np
from noises import MAKERS, Sound, rms

EDGE_SECONDS = 0.35
FRAME_SECONDS = 0.02


def resample(sound: Sound, rate: int, to: int) -> Sound:
    """The same sound at another rate [Hz], band-limited, by its spectrum."""
    if rate == to:
        return sound
    size = round(sound.size * to / rate)
    spectrum = np.fft.rfft(sound)
    kept = np.zeros(size // 2 + 1, dtype=complex)
    shared = min(kept.size, spectrum.size)
    kept[:shared] = spectrum[:shared]
    return np.asarray(np.fft.irfft(kept, size) * (size / sound.size), dtype=np.float64)


def _frame_levels(sound: Sound, rate: int) -> Sound:
    """Level of each 20 ms [-]."""
    width = int(FRAME_SECONDS * rate)
    frames = sound[: sound.size // width * width].reshape(-1, width)
    return np.asarray(np.sqrt(np.mean(np.square(frames), axis=1)), dtype=np.float64)


def trimmed(sound: Sound, rate: int) -> Sound:
    """The speech with 0.35 s of nothing before and after, whatever the synthesiser left there."""
    levels = _frame_levels(sound, rate)
    loud = np.flatnonzero(levels > levels.max() * 10 ** (-45 / 20))
    width = int(FRAME_SECONDS * rate)
    speech = sound[max(0, loud[0] - 1) * width : (loud[-1] + 2) * width].copy()
    ramp = np.linspace(0, 1, int(0.008 * rate))
    speech[: ramp.size] *= ramp
    speech[-ramp.size :] *= ramp[::-1]
    return np.pad(speech, int(EDGE_SECONDS * rate))


def speech_level(sound: Sound, rate: int) -> float:
    """Level of the 20 ms frames in which somebody speaks: those within 25 dB of the loudest."""
    levels = _frame_levels(sound, rate)
    active = levels[levels > levels.max() * 10 ** (-25 / 20)]
    return rms(active)


def at_level(sound: Sound, rate: int, dbfs: float) -> Sound:
    """The sound with its speech level at so many dB below full scale."""
    return sound * (10 ** (dbfs / 20) / speech_level(sound, rate))


def with_noise(
    sound: Sound, rate: int, noise: str, snr_db: float, rng: np.random.Generator
) -> Sound:
    """The sound over a noise that lies `snr_db` below the speech level (over the whole clip)."""
    under = MAKERS[noise](rng, sound.size, rate)
    under *= speech_level(sound, rate) * 10 ** (-snr_db / 20) / rms(under)
    return not_over(sound + under)


def not_over(sound: Sound) -> Sound:
    """Turned down where a peak would pass full scale."""
    return sound / max(1.0, float(np.abs(sound).max()) / 0.98)


def two_channels(sound: Sound) -> Sound:
    """As two microphones hear it: the second a little later and fainter."""
    later = np.concatenate([np.zeros(6), sound[:-6]])
    return np.stack([sound, 0.7 * later], axis=1)
