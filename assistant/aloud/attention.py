"""What the ears get to hear: the cook always, our own voice never.

While our voice sounds the ears get silence, unless the cook speaks over it: then the voice stops
and the ears get what was said from its beginning. The echo canceller takes some of it away with our
voice, so a number that was said over our voice is asked back before it counts. Without an echo
canceller it is silence throughout.
"""

from collections.abc import Callable, Iterator

import numpy as np

from assistant.hear.audio import to_16k
from assistant.hear.heard import SAMPLE_RATE, Heard, Samples
from assistant.hear.over_voice import OverVoice
from assistant.say.player import Sounding
from assistant.say.speaker import Speaker

LINGERS = 0.6
"""How long our voice may still come from the room after it ended, device and echo together. [s]"""
_SLIPPED = 0.05
"""From here on a block's time is not jitter: sound was lost in between. [s]"""


class Attention:
    """Between the microphone and the ears.

    at : when the newest block had been recorded, by the timer that the player uses too [s]
    over : tells the cook's voice from ours; without it there is no speaking over our voice
    """

    def __init__(
        self,
        speaker: Speaker,
        at: Callable[[], float] | None = None,
        over: OverVoice | None = None,
    ) -> None:
        self._speaker, self._at, self._over = speaker, at, over
        self._end: float | None = None
        self._ours: Sounding | None = None
        self._ours16 = np.zeros(0, np.float32)
        self._speaks_over = False
        self._doubtful = False

    def believed(self, heard: Heard) -> Heard:
        """The utterance as sure as it can be: not at all where it began over our voice."""
        if heard.partial or not self._doubtful:
            return heard
        self._doubtful = False
        return heard.model_copy(update={"sure": 0.0})

    def attend(self, block: Samples) -> Iterator[Samples]:
        """What the ears should hear in place of this block."""
        if self._at is None or self._over is None:
            yield np.zeros_like(block) if self._speaker.is_speaking() else block
            return
        end = self._time(block, self._at())
        self._notice()
        if not self._sounds(end - len(block) / SAMPLE_RATE, end, LINGERS):
            yield block
        elif self._speaks_over:
            yield self._over.after(block, self._played(block, end))
        else:
            yield from self._listen_over(self._over, block, end)

    def _listen_over(self, over: OverVoice, block: Samples, end: float) -> Iterator[Samples]:
        spoken = over.feed(block, self._played(block, end))
        if spoken:
            self._speaker.hush()
        elif self._sounds(end - len(block) / SAMPLE_RATE, end, 0.0):
            yield np.zeros_like(block)
            return
        self._speaks_over = True
        self._doubtful = spoken or over.under_way
        yield over.kept() if self._doubtful else np.zeros_like(block)

    def _time(self, block: Samples, told: float) -> float:
        """When the block ended: told times jitter, so the samples are counted between them."""
        if self._end is not None:
            counted = self._end + len(block) / SAMPLE_RATE
            late = told - counted
            told = counted + 0.05 * late if abs(late) < _SLIPPED else told
        self._end = told
        return told

    def _notice(self) -> None:
        """A new sentence of ours: nobody speaks over it yet."""
        ours = self._speaker.sounding()
        if ours is not None and (self._ours is None or ours.since != self._ours.since):
            self._ours16 = to_16k(ours.samples, ours.rate)
            self._speaks_over = False
            if self._over is not None:
                self._over.restart()
        self._ours = ours

    def _sounds(self, start: float, end: float, lingers: float) -> bool:
        """Whether our voice can be in sound that was recorded between these times."""
        ours = self._ours
        if ours is None or ours.since is None or end <= ours.since:
            return False
        return ours.until is None or start < ours.until + lingers

    def _played(self, block: Samples, end: float) -> Samples:
        """What the loudspeaker was given while the block was recorded."""
        played = np.zeros(len(block), np.float32)
        ours = self._ours
        if ours is None or ours.since is None:
            return played
        over = len(self._ours16)
        if ours.until is not None:
            over = min(over, round((ours.until - ours.since) * SAMPLE_RATE))
        start = round((end - ours.since) * SAMPLE_RATE) - len(block)
        first, last = max(0, start), min(over, start + len(block))
        if last > first:
            played[first - start : last - start] = self._ours16[first:last]
        return played
