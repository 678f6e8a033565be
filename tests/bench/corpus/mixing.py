"""Speech over noise, so many dB below it where somebody speaks."""

import numpy as np

from tests.bench.corpus.fixture_tools import NOISES, RATE, Sound, not_over, rms

_FRAME = RATE // 50
_ACTIVE_DB = 25.0


def active(speech: Sound) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
    """Which samples belong to speech: those in 20 ms frames within 25 dB of the loudest one."""
    frames = speech[: speech.size // _FRAME * _FRAME].reshape(-1, _FRAME)
    levels = np.sqrt(np.mean(np.square(frames), axis=1))
    loud = levels > levels.max() * 10 ** (-_ACTIVE_DB / 20)
    whole = np.repeat(loud, _FRAME)
    return np.pad(whole, (0, speech.size - whole.size))


def over(speech: Sound, noise: Sound, snr_db: float) -> Sound:
    """Speech plus noise: the ratio of their power [dB] over the speech's active part.

    Noise that comes in blows and hits no active part would be turned up without end: its level
    over the whole clip counts where that is higher.
    """
    part = active(speech)
    under = max(rms(noise[part]), rms(noise))
    level = rms(speech[part]) * 10 ** (-snr_db / 20)
    return not_over(speech + noise[: speech.size] * (level / max(under, 1e-9)))


def snr_of(speech: Sound, mixed: Sound) -> float:
    """The ratio that came out [dB], where nothing was turned down."""
    part = active(speech)
    return float(20 * np.log10(rms(speech[part]) / rms((mixed - speech)[part])))


def noise_of(name: str, size: int, rng: np.random.Generator) -> Sound:
    """So many samples of a noise that is reckoned."""
    return NOISES[name](rng, size, RATE)
