"""The moment that an utterance counts for: on the wall, and as its process counted."""

from datetime import datetime
from typing import NamedTuple

from assistant.base.clock import Clock, Tick
from assistant.facts.events import AnyEvent


class When(NamedTuple):
    """A moment by both clocks."""

    at: datetime
    tick: Tick

    def counted(self, events: tuple[AnyEvent, ...]) -> tuple[AnyEvent, ...]:
        """The events with what the clock counted, besides the time on the wall."""
        counted = self.tick._asdict()
        return tuple(event.model_copy(update=counted) for event in events)


def just_now(clock: Clock) -> When:
    """The moment as it is."""
    return When(clock.now(), clock.tick())


def said_at(clock: Clock, at: datetime | None, last: datetime) -> When:
    """The moment when something was said, told back by both clocks.

    at : None for just now; never after now, and never before what was written last: a hold that
        ran backwards would count time that never was
    """
    now, tick = just_now(clock)
    if at is None:
        return When(now, tick)
    then = min(now, max(last, at))
    ago = (now - then).total_seconds()
    return When(then, tick._replace(elapsed_s=tick.elapsed_s - ago))
