"""Timers the cook sets by name."""

from dataclasses import replace
from datetime import datetime

from assistant.cook.batch import Batch, Timer
from assistant.cook.changes import Step, changed, stay
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.facts.events import TimerSet, TimerStop


def take_timer(batch: Batch, event: TimerSet) -> Step:
    """A timer starts; one of the same name starts afresh."""
    timer = Timer(event.name or "timer", event.seconds, event.at)
    kept = tuple(t for t in batch.timers if t.name != timer.name)
    after = replace(batch, timers=(*kept, timer))
    facts: dict[str, Fact] = {"name": timer.name, "time": Quantity(value=timer.seconds, unit="s")}
    return changed(batch, after), Reply(
        lines=(Line(id="timer_set", rank="read_back", facts=facts),)
    )


def take_timer_stop(batch: Batch, event: TimerStop) -> Step:
    """The named timer stops; the only one, or all, when none was named."""
    stopped = [t for t in batch.timers if event.name in (None, t.name)]
    if not stopped:
        return stay(batch, Line(id="no_timer", rank="answer"))
    after = replace(batch, timers=tuple(t for t in batch.timers if t not in stopped))
    return changed(batch, after), Reply(lines=(Line(id="timer_stopped", rank="read_back"),))


def run_out(batch: Batch, now: datetime) -> tuple[Timer, ...]:
    """The timers whose time is up."""
    return tuple(t for t in batch.timers if (now - t.at).total_seconds() >= t.seconds)
