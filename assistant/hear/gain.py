"""How much louder this computer's microphone is to be heard, as its cook agreed after a check.

Only the level is fitted to one kitchen. When to believe a number was fitted on thousands of
utterances, and twelve sentences are no reason to change it.
"""

import json
from pathlib import Path

import numpy as np
from platformdirs import user_config_dir

from assistant.base.errors import WrongUse
from assistant.hear.heard import Samples
from assistant.hear.sound_level import QUIETEST_DB, SoundLevel

_USUAL_DB = -33.0
"""Level of speech that the ears know: the middle one of the demo's utterances. [dBFS]"""
_HEADROOM_DB = -6.0
"""The loudest sample stays below, so that a louder word is not cut. Common practice, no source."""
MOST_DB = 40.0
"""More would lift noise of the microphone itself. Common practice, no source. [dB]"""


def gain_file() -> Path:
    """Where the gain is kept."""
    return Path(user_config_dir("panside", appauthor=False)) / "microphone.json"


def fitting(level: SoundLevel) -> float:
    """The gain that brings quiet speech to the level that the ears know [dB], in whole ones.

    0 where it is loud enough, where nothing stands out of the noise, or where it is clipped.

    >>> fitting(SoundLevel(speech=-63.0, noise=-85.0, peak=-45.0, clipped=False))
    30.0
    """
    if level.speech >= QUIETEST_DB or level.above <= 0 or level.clipped:
        return 0.0
    wanted = min(_USUAL_DB - level.speech, _HEADROOM_DB - level.peak, MOST_DB)
    return float(max(0, round(wanted)))


def kept_gain() -> float:
    """The gain that was agreed to [dB]; 0 where none was, or where what is kept can't be read."""
    try:
        kept = json.loads(gain_file().read_text("utf-8"))["gain_db"]
        gain = float(kept)
    except (OSError, ValueError, KeyError, TypeError):
        return 0.0
    return gain if 0 <= gain <= MOST_DB else 0.0


def keep_gain(gain: float) -> None:
    """Keep a gain [dB] from now on; WrongUse where it can't be kept."""
    try:
        gain_file().parent.mkdir(parents=True, exist_ok=True)
        gain_file().write_text(json.dumps({"gain_db": gain}) + "\n", "utf-8")
    except OSError as error:
        raise WrongUse(f"{gain_file()} can't be written ({error.strerror}).") from error


def louder(samples: Samples, gain: float) -> Samples:
    """Samples lifted by a gain [dB], none beyond full scale.

    >>> louder(np.array([0.01, 0.5], dtype=np.float32), 20.0).round(3).tolist()
    [0.1, 1.0]
    """
    if gain == 0:
        return samples
    lifted = samples * np.float32(10 ** (gain / 20))
    return np.asarray(np.clip(lifted, -1.0, 1.0), dtype=np.float32)
