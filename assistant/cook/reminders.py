"""What a cook should be reminded of: timers run out, a hold to read, a rest that is over."""

from collections.abc import Iterator
from datetime import datetime

from assistant.cook.batch import Batch
from assistant.cook.kinds import Hold, Rest
from assistant.cook.reply import Line, Quantity
from assistant.cook.timers import due

READ_AGAIN_S = 45.0
"""A hold is only worth what its readings show, so one is asked for at least this often."""

Reminder = tuple[Line, tuple[str, datetime]]
"""The line, and a key that is the same as long as it is the same reminder."""


def reminders(batch: Batch, now: datetime) -> Iterator[Reminder]:
    """Everything that is due now, the most pressing first."""
    for timer in due(batch, now):
        line = Line(id="timer_due", rank="do", facts={"name": timer.name})
        yield line, (timer.name, timer.at)
    if not batch.paused:
        yield from _hold(batch, now)
        yield from _rest(batch, now)


def _hold(batch: Batch, now: datetime) -> Iterator[Reminder]:
    """A running hold wants the next reading."""
    last = batch.last("temperature")
    if not isinstance(batch.stage, Hold) or last is None:
        return
    since = (now - last.at).total_seconds()
    if since >= min(READ_AGAIN_S, batch.stage.seconds):
        passed = Quantity(value=round(since), unit="s")
        yield Line(id="read_again", rank="do", facts={"passed": passed}), ("hold", last.at)


def _rest(batch: Batch, now: datetime) -> Iterator[Reminder]:
    """A rest that is over wants its "done"."""
    stage = batch.stage
    if not isinstance(stage, Rest):
        return
    if (now - batch.entered_at).total_seconds() >= stage.minutes * 60:
        rest = Quantity(value=stage.minutes, unit="min")
        yield Line(id="rest_over", rank="do", facts={"rest": rest}), ("rest", batch.entered_at)
