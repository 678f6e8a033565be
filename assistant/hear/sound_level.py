"""How loud somebody spoke into a microphone, over what noise, and what to change about it."""

from dataclasses import dataclass

import numpy as np

from assistant.hear.audio import SILENCE_DB, is_clipped, loudness
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.voice_activity import FRAME, utterances

QUIETEST_DB = -55.0
"""Speech below is lifted. Of 16 recordings turned down to -53 dBFS and kept with 16 bits all were
heard as before, at -63 dBFS 15, at -73 six; lifted again, all of them each time. [dBFS]"""
CLEAR_DB, FAINT_DB = 20.0, 10.0
"""Speech so far above the noise is heard nearly as well as without it; below the second, numbers
are lost: shares of first guesses in `tests/bench/REPORT.md`. [dB]"""
_LOUDEST_S = 0.5


@dataclass(frozen=True)
class SoundLevel:
    """What a microphone gave while a sentence was spoken.

    speech, noise : mean power of the speech and of the quiet before [dBFS]
    peak : largest sample [dBFS]
    clipped : the microphone was overdriven
    """

    speech: float
    noise: float
    peak: float
    clipped: bool

    @property
    def above(self) -> float:
        """How far the speech is above the noise [dB]."""
        return self.speech - self.noise


def noise_of(quiet: Samples) -> float:
    """The noise in a stretch without speech [dBFS]: the middle one of its steps, so that a bang
    does not count."""
    steps = quiet[: len(quiet) - len(quiet) % FRAME].reshape(-1, FRAME)
    return float(np.median([loudness(step) for step in steps])) if len(steps) else SILENCE_DB


def level_of(sound: Samples, noise: float) -> SoundLevel:
    """The level of the speech in a recording; of its loudest half second where none was found.

    noise : what the room has when nobody speaks [dBFS]
    """
    found = [each.samples for each in utterances([sound])]
    speech = np.concatenate(found) if found else _loudest(sound)
    peak = float(np.max(np.abs(speech), initial=0.0))
    peak_db = 20 * float(np.log10(peak)) if peak > 0 else SILENCE_DB
    return SoundLevel(loudness(speech), noise, peak_db, is_clipped(speech))


def _loudest(sound: Samples) -> Samples:
    size = int(_LOUDEST_S * SAMPLE_RATE)
    starts = range(0, max(1, len(sound) - size), size // 4)
    return max((sound[at : at + size] for at in starts), key=loudness)


def together(levels: list[SoundLevel]) -> SoundLevel:
    """The middle of several; the largest peak, clipped where any was."""
    return SoundLevel(
        float(np.median([each.speech for each in levels])),
        float(np.median([each.noise for each in levels])),
        max(each.peak for each in levels),
        any(each.clipped for each in levels),
    )
