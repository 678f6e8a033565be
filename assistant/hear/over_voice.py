"""Telling the cook's voice from our own while ours sounds from the loudspeaker.

An echo canceller takes away what the microphone has of our own voice; the voice detector looks at
what is left. Only what is like speech, for long enough, not far below what the microphone had, and
does not rise and fall as our own voice does, is somebody speaking.
"""

from collections import deque
from dataclasses import dataclass
from itertools import islice
from typing import Any

import numpy as np

from assistant.base.errors import EarsMissing
from assistant.hear.audio import loudness
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.likeness import likeness
from assistant.hear.room_echo import LEAST, LONGEST, RoomEcho
from assistant.hear.voice_activity import FRAME, SpeechMeter, steps_in

_SILENT = 0.003
"""Samples below do not sound. [-]"""
_KEPT = 5.0
"""Sound that is remembered of a sentence. [s]"""
_BEGUN = 1.2
"""Nobody speaks so long over our voice without being noticed; what is older is its echo. [s]"""


@dataclass(frozen=True)
class Over:
    """When somebody counts as speaking over our voice.

    speech : probability of speech in what is left [-]
    share : least part of the microphone's level that must be left, echo and all [dB]
    level : least level of what is left [dBFS]
    onset : speech that must be there [s]
    fades : what a step without speech takes off again, as a part of a step [-]
    alike : likeness to our own voice from which it is taken for its echo [-]
    compared : sound that is compared for it [s]
    latest : largest delay with which our voice may come back [s]
    known : our voice that must have sounded before anybody is heard over it: till then the
        canceller does not know the room [s]
    before : sound kept from before the onset [s]

    Chosen in simulated rooms: of 216 settings tried on 28 minutes of our own voice, and on 24
    utterances spoken over it at five levels, this one stopped by no mistake and missed few. What
    leaks through the canceller while it finds the delay again is like our voice by 0.5 to 0.7.
    """

    speech: float = 0.6
    share: float = -13.0
    level: float = -52.0
    onset: float = 0.192
    fades: float = 0.25
    alike: float = 0.5
    compared: float = 0.448
    latest: float = 0.512
    known: float = 3.0
    before: float = 0.4


class OverVoice:
    """Listens over our own voice. EarsMissing when the echo canceller can't be loaded."""

    def __init__(self, over: Over | None = None) -> None:
        self._over = over or Over()
        self._canceller = _canceller()
        self._onset = max(1, steps_in(self._over.onset))
        self._before = steps_in(self._over.before)
        self._compared = steps_in(self._over.compared)
        self._recent: deque[Samples] = deque(maxlen=steps_in(_KEPT))
        self._had: deque[Samples] = deque(maxlen=steps_in(_KEPT))
        self._played: deque[Samples] = deque(maxlen=steps_in(_KEPT))
        self._echo: RoomEcho | None = None
        self._unknown = steps_in(self._over.known)
        self.restart()

    def restart(self) -> None:
        """Our voice begins a new sentence: nobody speaks over it yet. The room stays known."""
        self._meter = SpeechMeter()
        self._rest = np.zeros((3, 0), dtype=np.float32)
        self._recent.clear()
        self._had.clear()
        self._played.clear()
        self._echo = None
        self._loud = 0.0
        self._since = 0

    def clean(self, block: Samples, played: Samples) -> Samples:
        """The block without our own voice.

        played : what the loudspeaker was given in the same time, zeros where it was silent
        """
        near, far = (np.ascontiguousarray(s, dtype=np.float32) for s in (block, played))
        return np.asarray(self._canceller.process(near, far), dtype=np.float32)

    def feed(self, block: Samples, played: Samples) -> bool:
        """Whether somebody has been speaking over our voice for long enough by now."""
        sound = np.stack([self.clean(block, played), block, played]).astype(np.float32)
        sound = np.concatenate([self._rest, sound], axis=1)
        whole = sound.shape[1] - sound.shape[1] % FRAME
        self._rest = sound[:, whole:]
        steps = (sound[:, at : at + FRAME] for at in range(0, whole, FRAME))
        found = zip(steps, self._meter(sound[0, :whole]), strict=True)
        return any([self._step(s[0], s[1], s[2], float(p)) for s, p in found])

    def _step(self, left: Samples, had: Samples, played: Samples, probability: float) -> bool:
        self._recent.append(left)
        self._had.append(had)
        self._played.append(played)
        self._unknown -= bool(self._unknown > 0 and np.max(np.abs(played)) > _SILENT)
        over, level = self._over, loudness(left)
        enough = level >= over.level and level - loudness(had) >= over.share
        if probability < over.speech or not enough:
            self._loud = max(0.0, self._loud - over.fades)
            self._since = self._since + 1 if self._loud > 0 else 0
            return False
        self._loud += 1.0
        self._since += 1
        return self._unknown <= 0 and self._loud >= self._onset and not self._is_echo()

    def _is_echo(self) -> bool:
        later = self._compared + steps_in(self._over.latest)
        return (
            likeness(_last(self._recent, self._compared), _last(self._played, later))
            >= self._over.alike
        )

    @property
    def under_way(self) -> bool:
        """Whether somebody may just have begun to speak."""
        return self._loud >= 2

    def kept(self) -> Samples:
        """What was spoken since it began, with our voice taken away, and a little before it.

        From where it began a filter learnt on the sentence takes our voice away, since the
        canceller hushes the first words too; where there was too little to learn from, the sound
        is as the microphone had it. Whoever is heard over our voice is louder than it.
        """
        spoken = min(self._since, steps_in(_BEGUN), len(self._had))
        calm = _last(self._recent, min(len(self._recent), spoken + self._before))
        calm = calm[: len(calm) - spoken * FRAME]
        self._learn(spoken)
        heard = np.concatenate([_last(self._had, spoken), self._rest[1]])
        if self._echo is not None:
            played = np.concatenate([*self._played, self._rest[2]])
            heard = self._echo.without(played, heard)
        return np.concatenate([calm, heard])

    def _learn(self, spoken: int) -> None:
        """How the room gives our voice back, from what came before somebody spoke."""
        before = len(self._had) - spoken - steps_in(0.1)
        if before >= steps_in(LEAST):
            played, had = (np.concatenate([*islice(s, before)]) for s in (self._played, self._had))
            self._echo = RoomEcho(played, had)

    def after(self, block: Samples, played: Samples) -> Samples:
        """A block that follows what was kept, without what still comes back of our voice."""
        cleaned = self.clean(block, played)
        if self._echo is None:
            return cleaned
        self._played.append(np.concatenate([self._rest[2], played]).astype(np.float32))
        self._rest = np.zeros((3, 0), dtype=np.float32)
        return self._echo.without(_last(self._played, steps_in(LONGEST) + 2), block)


def _last(sound: deque[Samples], count: int) -> Samples:
    """The newest pieces, as one."""
    pieces = [*islice(sound, max(0, len(sound) - count), None)]
    return np.concatenate(pieces) if pieces else np.zeros(0, dtype=np.float32)


def _canceller() -> Any:
    try:
        from pywebrtc_audio import EchoCanceller

        return EchoCanceller(sample_rate=SAMPLE_RATE)
    except Exception as broken:  # a missing wheel or a library that the system can't load
        raise EarsMissing(
            f"The echo canceller can't be loaded ({broken}); reinstall pywebrtc-audio."
        ) from broken
