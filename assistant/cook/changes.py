"""The few ways a batch changes, shared by everything that changes it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any, Literal

from assistant.cook.batch import Batch
from assistant.cook.judging import read_back
from assistant.cook.kinds import Stage
from assistant.cook.kinds.base import Enough, NotTaken, NotYet
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.cook.totals import stuff_total
from assistant.facts.events import Reading
from assistant.facts.stuff import PRESERVATIVES

Step = tuple[Batch, Reply]
Handler = Callable[[Batch, Any], Step]


def changed(before: Batch, after: Batch) -> Batch:
    """The later state, remembering the earlier one so that it can be taken back."""
    return replace(after, before=before, asked_again=None)


def advance(batch: Batch, at: datetime) -> Batch:
    """The batch at its next stage, passing over stages whose option was not chosen."""
    index = batch.stage_index + 1
    stages = batch.stages
    while index < len(stages) and not wanted(batch, stages[index]):
        index += 1
    ended: Literal["finished"] | None = "finished" if index >= len(stages) else None
    return replace(batch, stage_index=index, entered_at=at, insisted=None, ended=ended)


def wanted(batch: Batch, stage: Stage) -> bool:
    """Whether the stage is to be done: its option was chosen, or it has none.

    A preservative that went in is neither asked about nor asked for again.
    """
    if stage.subject in PRESERVATIVES and stuff_total(batch, stage.subject):
        return False
    return stage.when is None or batch.choices.get(stage.when, False)


def onward(before: Batch, after: Batch, at: datetime, *first: Line) -> Step:
    """Go to the next stage: the lines about what just happened, then what is asked now."""
    moved = changed(before, advance(after, at))
    return moved, Reply(lines=(*first, *announce(moved, at, arriving=True)))


def heard(batch: Batch, event: Reading, warned: tuple[Line, ...] = ()) -> Step:
    """The batch with a reading counted, as the stage takes it.

    warned : what is to be said of the reading wherever it was taken
    """
    after, said = batch.with_reading(event), read_back(event)
    found = batch.stage.heard(after, event, warned) if batch.stage else None
    match found:
        case Enough(lines):
            return onward(batch, after, event.at, said, *lines)
        case NotYet(lines):
            return changed(batch, after), Reply(lines=(said, *lines))
        case NotTaken(line):
            return stay(batch, line)
        case None:
            return changed(batch, after), Reply(lines=(said, *warned))


def stay(batch: Batch, *lines: Line) -> Step:
    """Nothing changes; these lines are said."""
    return batch, Reply(lines=lines, stopped=batch.stopped)
