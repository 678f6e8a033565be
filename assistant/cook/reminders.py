"""What a cook should be reminded of: timers run out, a hold to read, a rest that is over."""

from collections.abc import Iterator
from datetime import datetime

from assistant.cook.batch import Batch
from assistant.cook.reply import Line
from assistant.cook.timers import run_out

Reminder = tuple[Line, tuple[str, datetime]]
"""The line, and a key that is the same as long as it is the same reminder."""


def reminders(batch: Batch, now: datetime) -> Iterator[Reminder]:
    """Everything that is due now, the most pressing first."""
    for timer in run_out(batch, now):
        line = Line(id="timer_due", rank="do", facts={"name": timer.name})
        yield line, (timer.name, timer.at)
    if batch.stage is None or batch.paused:
        return
    due = batch.stage.due(batch, now)
    if due is not None and now >= due.ends:
        yield due.line, (due.kind, due.began)
