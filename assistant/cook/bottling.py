"""Filling bottles: how many, of what size, and whether that fits the syrup there is."""

from dataclasses import replace

from assistant.cook.batch import Batch, Bottled
from assistant.cook.changes import Step, heard, onward, stay
from assistant.cook.finished_ph import fresh_ph
from assistant.cook.keeping import keeping
from assistant.cook.kinds import Bottling
from assistant.cook.reply import Line, Quantity
from assistant.cook.sorts import count_line
from assistant.cook.stages import announce
from assistant.cook.stock import syrup
from assistant.cook.stops import stop_line
from assistant.facts.events import Bottle, Reading


def take_bottles(batch: Batch, event: Bottle) -> Step:
    """The bottles filled. A batch that a limit holds is not bottled."""
    if batch.stopped_by:
        return stay(batch, stop_line(batch, "no_bottling"))
    if not isinstance(batch.stage, Bottling):
        return stay(batch, Line(id="bottling_later", rank="answer"), *announce(batch, event.at))
    filled = filled_by(event)
    after = replace(batch, bottled=filled)
    lines = (*_counted(filled), *_part(filled), *_fit(batch, filled), *_weak_hurdles(batch))
    return onward(batch, after, event.at, *lines)


def filled_by(event: Bottle) -> Bottled:
    """The bottles that somebody tells of, of one sort or several."""
    plain = event.of == "bottle" and event.holds_ml is None
    if plain and not event.more:
        return Bottled(event.count, event.size_ml, event.at)
    count = sum(lot.count for lot in event.lots)
    sizes = {lot.size_ml for lot in event.lots}
    return Bottled(count, sizes.pop() if len(sizes) == 1 else None, event.at, event.lots)


def take_yield(batch: Batch, event: Reading) -> Step:
    """A plain number of bottles, or the volume of syrup there is."""
    if event.what == "bottles":
        count = round(event.value)
        if count != event.value or count < 1:
            return stay(batch, Line(id="bottles_whole", rank="question"))
        return take_bottles(batch, Bottle(at=event.at, heard=event.heard, count=count))
    return heard(batch, event)


def _counted(filled: Bottled) -> tuple[Line, ...]:
    """What was told, read back sort by sort."""
    if filled.size_ml is None and not filled.lots:
        facts = {"count": filled.count}
        return (Line(id="bottles_read_back", rank="read_back", facts=facts),)
    return tuple(count_line(one) for one in filled.sorts)


def _part(filled: Bottled) -> tuple[Line, ...]:
    """One with much air over the syrup goes first (common practice, no source)."""
    part = any(one.holds_ml is not None for one in filled.sorts)
    return (Line(id="part_first", rank="answer"),) if part else ()


def _fit(batch: Batch, filled: Bottled) -> tuple[Line, ...]:
    """More than was reckoned is worth a second look: a wrong weight shows itself here."""
    stock, made = syrup(batch), filled.volume_ml
    if stock is None or made is None or made <= 1.15 * stock.volume_ml.high:
        return ()
    reckoned = Quantity(value=stock.volume_ml.likely, unit="ml")
    return (Line(id="more_than_reckoned", rank="caution", facts={"reckoned": reckoned}),)


def _weak_hurdles(batch: Batch) -> tuple[Line, ...]:
    """A skipped hold or a pH that does not count is said again before the bottle goes away."""
    unread = batch.recipe.acidity != "low-acid" and fresh_ph(batch) is None
    if not unread and not batch.skipped & {"heat", "hold", "ph"}:
        return ()
    days = keeping(batch).days
    facts = {"days": Quantity(value=days or 0, unit="day")}
    return (Line(id="weak_batch", rank="caution", facts=facts),)
