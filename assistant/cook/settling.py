"""What holds after every event, whichever way the batch came there: totals, dates, a stale pH."""

from dataclasses import replace
from datetime import datetime

from assistant.base.errors import OutOfRange
from assistant.cook.amounts import amount
from assistant.cook.batch import Batch
from assistant.cook.finished_ph import is_stale, stale_lines, will_be_asked
from assistant.cook.holding import heated
from assistant.cook.keeping import hurdles
from assistant.cook.kinds import Bottling
from assistant.cook.lasting import Filled
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.cook.totals import over_line, stopping
from assistant.limits import limit_named

Step = tuple[Batch, Reply]


def settled(before: Batch, after: Batch, reply: Reply, at: datetime) -> Step:
    """The batch with its totals judged and its bottles' worth kept, and what is to be said of it.

    before : as it was before the event; after, reply : what the event made of it
    """
    if after is before:
        return after, reply
    if not reckonable(after, at):
        line = Line(id="beyond_reckoning", rank="question")
        return before, Reply(lines=(line,), stopped=before.stopped)
    judged, lines = _by_totals(after)
    kept = _worth_kept(judged)
    more = (*lines, *_stale(before, kept), *_unheated(before, kept), *_date_stays(before, kept))
    stopped = kept.stopped
    if more or stopped != reply.stopped:
        reply = reply.model_copy(update={"lines": (*reply.lines, *more), "stopped": stopped})
    return kept, reply


def reckonable(batch: Batch, at: datetime) -> bool:
    """Whether the core can reckon with what was said; what it can't is not taken."""
    try:
        hurdles(batch)
        stopping(batch)
        announce(batch, at)
        for name in batch.recipe.amounts:
            amount(batch, name)
    except OutOfRange:
        return False
    return True


def _by_totals(batch: Batch) -> tuple[Batch, tuple[Line, ...]]:
    """Stopped while a preservative is over a ceiling, and let go when it no longer is."""
    limit = limit_named(batch.stopped_by)
    if limit is not None and limit.quantity == "ph":
        return batch, ()
    over = stopping(batch)
    if over is None:
        return (batch if limit is None else replace(batch, stopped_by=None)), ()
    if limit is not None:
        return batch, ()
    return replace(batch, stopped_by=over.limit.id), (over_line(over),)


def _worth_kept(batch: Batch) -> Batch:
    """What filled bottles are worth only falls: the worst since the first filling is kept."""
    if batch.bottled is None:
        return batch
    now, first = hurdles(batch), batch.lasting.filled
    worst = now.worse(first.hurdles if first else None)
    filled = Filled(first.at if first else batch.bottled.at, worst)
    if filled == first:
        return batch
    return replace(batch, lasting=replace(batch.lasting, filled=filled))


def _stale(before: Batch, after: Batch) -> tuple[Line, ...]:
    """Said when a pH has just become stale, and once more where the bottles are next."""
    if after.bottled or not is_stale(after) or will_be_asked(after):
        return ()
    arrived = isinstance(after.stage, Bottling) and before.stage is not after.stage
    return stale_lines(after) if arrived or not is_stale(before) else ()


def _unheated(before: Batch, after: Batch) -> tuple[Line, ...]:
    """Who must not drink juice that was not held hot (21 CFR 101.17(g)), before it is bottled."""
    arrived = isinstance(after.stage, Bottling) and before.stage is not after.stage
    if not arrived or after.recipe.base == "water" or heated(after) != "none":
        return ()
    return (Line(id="unheated_juice", rank="caution"),)


def _date_stays(before: Batch, after: Batch) -> tuple[Line, ...]:
    """What is read or put in after the filling moves no date."""
    if before.bottled is None or after.bottled is None:
        return ()
    changed = len(after.taken) > len(before.taken) or len(after.added) > len(before.added)
    return (Line(id="date_stays", rank="answer"),) if changed else ()
