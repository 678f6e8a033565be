"""What waits for the cook's yes before it counts: it is written down, and asked about.

The journal holds what was said and the answer, so that another machine, or a file from elsewhere,
comes to the same: what nobody confirmed never counted.
"""

from collections.abc import Callable
from dataclasses import replace

from assistant.base.errors import OutOfRange
from assistant.cook.batch import Batch, Held
from assistant.cook.changes import Step, changed, stay
from assistant.cook.corrections import corrected, corrects_last, remembering
from assistant.cook.doubtful import doubts_about
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.cook.stock import syrup
from assistant.facts.events import AnyEvent, Correct, Reading

Handle = Callable[[Batch, AnyEvent], Step]
_LEAVES_OPEN = frozenset(("ask", "say_again", "pause", "stop", "manner", "undo"))
"""What is said in between, or takes the matter back itself."""
_SAID_ALREADY = frozenset(("off_plan", "more_than_reckoned"))
"""Remarks that the question has made."""


def answered(batch: Batch, event: AnyEvent, handle: Handle) -> Step | None:
    """What an event comes to while something waits for a yes; None where it is as at any time."""
    held, before = batch.held, batch.before
    if held is None or before is None or _leaves_open(batch, event):
        return None
    if event.kind == "yes":
        return _confirmed(before, held, handle)
    if event.kind == "no":
        return before, Reply(lines=(_dropped(held), *announce(before, event.at)))
    if event.kind == "onward":
        return stay(batch, *held.lines)
    return None


def _leaves_open(batch: Batch, event: AnyEvent) -> bool:
    """Whether the question stays; what waits is corrected as the last reading is."""
    if isinstance(event, Correct):
        return corrects_last(batch, event)
    return event.kind in _LEAVES_OPEN


def _confirmed(before: Batch, held: Held, handle: Handle) -> Step:
    after, reply = handle(before, held.event)
    if not _can_be_reckoned(after):
        return stay(before, Line(id="beyond_reckoning", rank="question"))
    if isinstance(held.event, Reading) and after.before is before:
        after = replace(after, last_reading=held.event)
    lines = tuple(line for line in reply.lines if line.id not in _SAID_ALREADY)
    return after, reply.model_copy(update={"lines": lines})


def _can_be_reckoned(batch: Batch) -> bool:
    """Whether there can be such a syrup: no pan holds 100 kg of sugar in three litres of juice."""
    try:
        syrup(batch)
    except OutOfRange:
        return False
    return True


def without(batch: Batch, event: AnyEvent) -> tuple[Batch, tuple[Line, ...]]:
    """The batch without what waits for a yes, where an event passes it over; and that it does."""
    held, before = batch.held, batch.before
    if held is None or before is None or _leaves_open(batch, event):
        return batch, ()
    again = isinstance(event, Reading) and isinstance(held.event, Reading)
    same = again and getattr(event, "what", "") == getattr(held.event, "what", "")
    return before, () if same or event.kind == held.event.kind != "reading" else (_dropped(held),)


def _dropped(held: Held) -> Line:
    return Line(id="not_counted", rank="read_back", facts=held.lines[0].facts)


def asked_first(batch: Batch, event: AnyEvent, after: Batch, reply: Reply) -> Step:
    """What a handler made of an event, or the question that comes before it counts."""
    base, meant = _meant(batch, event)
    if not batch.rules or base is None:
        return after, reply
    beyond = any(line.id == "beyond_reckoning" for line in reply.lines)
    unreckonable = beyond and isinstance(meant, Reading)
    if not unreckonable and (after is batch or after.before is not base):
        return after, reply
    lines = doubts_about(base, meant)
    if not lines and _can_be_reckoned(after):
        return after, reply
    if not lines:
        return stay(batch, Line(id="beyond_reckoning", rank="question"))
    if isinstance(event, Correct):
        base = remembering(batch, base)
    held = changed(base, replace(base, held=Held(meant, lines), insisted=None))
    return held, Reply(lines=lines, stopped=base.stopped)


def _meant(batch: Batch, event: AnyEvent) -> tuple[Batch | None, AnyEvent]:
    """What is judged, and in which state: a correction stands where the wrong one did."""
    if isinstance(event, Correct) and batch.last_reading and corrects_last(batch, event):
        return batch.before, corrected(batch.last_reading, event)
    return batch, event
