"""A recording fed as a microphone gives it, reckoning when a decision would have been there."""

import time
from collections.abc import Callable, Iterator

from assistant.hear.heard import SAMPLE_RATE, Samples

BLOCK = SAMPLE_RATE * 64 // 1000


class Feed:
    """Blocks of a recording. `ready` is the moment [s of the recording] when all work is done that
    the blocks so far gave rise to: a block is there when its last sample was spoken, and work on
    it begins when it is there and the work before is done.
    """

    def __init__(self, samples: Samples, timer: Callable[[], float] = time.perf_counter) -> None:
        self._samples, self._timer = samples, timer
        self._there = self._done = self._begun = 0.0
        self.worked = 0.0

    def blocks(self) -> Iterator[Samples]:
        """The blocks in order."""
        for start in range(0, len(self._samples), BLOCK):
            block = self._samples[start : start + BLOCK]
            self._settle()
            self._there = (start + len(block)) / SAMPLE_RATE
            self._begun = self._timer()
            yield block
        self._settle()

    def _settle(self) -> None:
        """Count the work on the last block."""
        if self._begun:
            spent = self._timer() - self._begun
            self._done = max(self._done, self._there) + spent
            self.worked += spent
        self._begun = self._timer()

    @property
    def ready(self) -> float:
        """Now, on the recording's clock [s]."""
        return max(self._done, self._there) + self._timer() - self._begun
