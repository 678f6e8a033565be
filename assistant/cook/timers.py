"""Timers the cook sets by name: any number, none in the place of another without a word."""

from dataclasses import replace
from datetime import datetime

from assistant.cook.batch import Batch, Timer
from assistant.cook.changes import Step, changed, stay
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.facts.events import TimerSet, TimerStop

PLAIN = "timer"
ALL = "all"
_ORDINALS = ("second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def take_timer(batch: Batch, event: TimerSet) -> Step:
    """A timer starts, beside those that run; one of the same name is told to start anew."""
    rung = run_out(batch, event.at)
    running = tuple(t for t in batch.timers if t not in rung)
    name = event.name or (_free(running) if batch.rules else PLAIN)
    anew = any(t.name == name for t in running)
    timer = Timer(name, event.seconds, event.at)
    after = replace(batch, timers=(*(t for t in batch.timers if t.name != name), timer))
    facts: dict[str, Fact] = {"name": name, "time": Quantity(value=timer.seconds, unit="s")}
    line_id = "timer_anew" if anew and batch.rules else "timer_set"
    return changed(batch, after), Reply(lines=(Line(id=line_id, rank="read_back", facts=facts),))


def _free(running: tuple[Timer, ...]) -> str:
    """A name that no running timer has: the timer, the second timer."""
    taken = {t.name for t in running}
    names = (PLAIN, *(f"{ordinal} {PLAIN}" for ordinal in _ORDINALS))
    numbered = (f"{PLAIN} {n}" for n in range(len(names) + 1, len(names) + 2 + len(running)))
    return next(name for name in (*names, *numbered) if name not in taken)


def take_timer_stop(batch: Batch, event: TimerStop) -> Step:
    """The named timer stops; without a name what rings, or the only one. Of several it is asked."""
    stopped = stopping(batch, event)
    if not stopped:
        return stay(batch, Line(id="no_timer", rank="answer"))
    if len(stopped) > 1 and batch.rules and event.name is None and not run_out(batch, event.at):
        names = " or ".join(timer.name for timer in stopped)
        return stay(batch, Line(id="which_timer", rank="question", facts={"names": names}))
    after = replace(batch, timers=tuple(t for t in batch.timers if t not in stopped))
    return changed(batch, after), Reply(lines=(Line(id="timer_stopped", rank="read_back"),))


def stopping(batch: Batch, event: TimerStop) -> tuple[Timer, ...]:
    """The timers of a batch that a wish to stop one can mean; () where it has none such.

    So a desk with several batches finds the one whose timer is meant.
    """
    if event.name is None:
        return (batch.rules and run_out(batch, event.at)) or batch.timers
    return tuple(t for t in batch.timers if _goes_by(t, event.name))


def _goes_by(timer: Timer, name: str) -> bool:
    return name == ALL or timer.name in (name, f"{name} {PLAIN}")


def run_out(batch: Batch, now: datetime) -> tuple[Timer, ...]:
    """The timers whose time is up."""
    return tuple(t for t in batch.timers if (now - t.at).total_seconds() >= t.seconds)
