"""A page's microphone: blocks of sound come in, what was heard goes out, on a thread of its own.

All microphones share one recogniser; each has its own voice-activity state, because `Ears.listen`
makes one for every stream.
"""

import threading
from collections.abc import Callable, Iterator
from queue import Empty, Full, Queue

import numpy as np

from assistant.hear.audio import from_pcm16
from assistant.hear.heard import SAMPLE_RATE, Ears, Heard, Samples

LONGEST_BLOCK_S = 1.0
"""A page sends blocks of a few hundredths of a second; more in one is no microphone."""
AHEAD_S = 5.0
"""A microphone gives a second of sound a second; so much more is a burst after a stall."""
_BLOCKS = 400
"""Blocks that may wait while the recogniser is busy (20 s of 50 ms); more are dropped."""
_LULL_S = 2.0
"""A network that is silent for so long is taken for silence, which ends what was being said. [s]"""
_LULL = np.zeros(round(_LULL_S * SAMPLE_RATE), dtype=np.float32)


class TooMuchSound(Exception):
    """More sound than a microphone makes."""


class Allowance:
    """Sound as fast as a microphone makes it, and a little ahead.

    >>> allowance = Allowance(0.0)
    >>> allowance.take(4.0, 0.0)
    >>> allowance.take(4.0, 3.5)
    >>> allowance.take(4.0, 3.6)
    Traceback (most recent call last):
    assistant.screen.hearing.TooMuchSound: 12.0 s of sound in 3.6 s
    """

    def __init__(self, begun: float) -> None:
        self._begun = begun
        self._taken = 0.0

    def take(self, seconds: float, now: float) -> None:
        """So much sound has come in; TooMuchSound where no microphone makes that."""
        self._taken += seconds
        if self._taken > now - self._begun + AHEAD_S:
            passed = now - self._begun
            raise TooMuchSound(f"{self._taken:.1f} s of sound in {passed:.1f} s")


class Listening:
    """One microphone being listened to.

    on_heard : told on the listening thread; what is still being spoken is told too
    deaf : whether something of ours sounds just now, so that it does not hear itself
    on_end : told when it is over, with what went wrong or None
    """

    def __init__(
        self,
        ears: Ears,
        on_heard: Callable[[Heard], None],
        deaf: Callable[[], bool],
        on_end: Callable[[Exception | None], None],
    ) -> None:
        self._ears, self._on_heard, self._deaf, self._on_end = ears, on_heard, deaf, on_end
        self._blocks: Queue[Samples | None] = Queue(_BLOCKS)
        self.dropped = 0
        self._thread = threading.Thread(target=self._listen, daemon=True, name="page-microphone")
        self._thread.start()

    def feed(self, pcm: bytes) -> float:
        """A block of 16-bit PCM at 16 kHz; its length [s]. TooMuchSound for a block too long."""
        samples = from_pcm16(pcm[: len(pcm) - len(pcm) % 2])
        seconds = len(samples) / SAMPLE_RATE
        if seconds > LONGEST_BLOCK_S:
            raise TooMuchSound(f"a block of {seconds:.1f} s")
        block = np.zeros_like(samples) if self._deaf() else samples
        try:
            self._blocks.put_nowait(block)
        except Full:
            self.dropped += 1
        return seconds

    def end(self) -> None:
        """No more sound comes; an utterance under way is still heard."""
        try:
            self._blocks.put_nowait(None)
        except Full:
            self._blocks.get_nowait()
            self._blocks.put_nowait(None)

    def wait(self, seconds: float) -> bool:
        """Until all has been heard; False when that takes longer."""
        self._thread.join(seconds)
        return not self._thread.is_alive()

    def _listen(self) -> None:
        fault: Exception | None = None
        try:
            for heard in self._ears.listen(self._arriving()):
                self._on_heard(heard)
        except Exception as broken:  # told to the page: a thread that dies silently hears nothing
            fault = broken
        self._on_end(fault)

    def _arriving(self) -> Iterator[Samples]:
        while True:
            try:
                block = self._blocks.get(timeout=_LULL_S)
            except Empty:
                block = _LULL
            if block is None:
                return
            yield block
