"""Clocks: the one on the wall, and one that stands still until it is told.

A wall clock may be set, by hand or over the network. So a clock also counts steadily, from a start
that only its own process knows: what two processes counted can't be compared.
"""

import time
from datetime import UTC, datetime, timedelta
from typing import NamedTuple, Protocol
from uuid import uuid4


class Tick(NamedTuple):
    """What a process counted: steady seconds since a start of its own. [s]"""

    process: str
    elapsed_s: float


class Clock(Protocol):
    """Anything that tells the time with its zone, and counts steadily beside it."""

    def now(self) -> datetime:
        """The time now."""

    def tick(self) -> Tick:
        """What was counted up to now."""


_PROCESS = uuid4().hex[:12]


class WallClock:
    """The machine's clock, in the kitchen's time zone."""

    def now(self) -> datetime:
        """The time now, with the local zone."""
        return datetime.now(UTC).astimezone()

    def tick(self) -> Tick:
        """The machine's monotonic count; it may stand still while the machine sleeps."""
        return Tick(_PROCESS, round(time.monotonic(), 3))


class SetClock:
    """A clock that moves only when it is told to, for demos and tests.

    >>> clock = SetClock(datetime(2026, 7, 4, 15, 0, tzinfo=UTC))
    >>> clock.forward(90)
    >>> clock.now().minute, clock.now().second, clock.tick().elapsed_s
    (1, 30, 90.0)
    >>> clock.jump(-30)
    >>> clock.now().minute, clock.tick().elapsed_s
    (1, 90.0)
    """

    def __init__(self, start: datetime, process: str = "set") -> None:
        self._now = start
        self._tick = Tick(process, 0.0)

    def now(self) -> datetime:
        """The time it was last set to."""
        return self._now

    def tick(self) -> Tick:
        """The seconds it was moved on by."""
        return self._tick

    def forward(self, seconds: float) -> None:
        """Move on by so many seconds; back goes only what is on the wall."""
        self._now += timedelta(seconds=seconds)
        elapsed = self._tick.elapsed_s + max(0.0, seconds)
        self._tick = self._tick._replace(elapsed_s=elapsed)

    def jump(self, seconds: float) -> None:
        """Set the wall clock on or back, while no time passes."""
        self._now += timedelta(seconds=seconds)

    def restart(self, process: str) -> None:
        """Count from a new start, as another process does."""
        self._tick = Tick(process, 0.0)
