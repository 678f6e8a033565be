"""Clocks: the one on the wall, and one that stands still until it is told."""

from datetime import UTC, datetime, timedelta
from typing import Protocol


class Clock(Protocol):
    """Anything that tells the time with its zone."""

    def now(self) -> datetime:
        """The time now."""


class WallClock:
    """The machine's clock, in the kitchen's time zone."""

    def now(self) -> datetime:
        """The time now, with the local zone."""
        return datetime.now(UTC).astimezone()


class SetClock:
    """A clock that moves only when it is told to, for demos and tests.

    >>> clock = SetClock(datetime(2026, 7, 4, 15, 0, tzinfo=UTC))
    >>> clock.forward(90)
    >>> clock.now().minute, clock.now().second
    (1, 30)
    """

    def __init__(self, start: datetime) -> None:
        self._now = start

    def now(self) -> datetime:
        """The time it was last set to."""
        return self._now

    def forward(self, seconds: float) -> None:
        """Move on by so many seconds."""
        self._now += timedelta(seconds=seconds)
