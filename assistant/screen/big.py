"""The one number that matters now, by the kind of the stage."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from assistant.base.units import Unit
from assistant.cook import Batch
from assistant.cook.amounts import amount
from assistant.cook.holding import current_run
from assistant.cook.keeping import keep_by_words
from assistant.cook.kinds import Add, Bottling, Cool, Do, Heat, Hold, Measure, Option, Reduce, Rest
from assistant.cook.reply import Quantity
from assistant.cook.stages import figure
from assistant.cook.stock import HALF_LITRE, bottles_for, made_up_volume, syrup
from assistant.cook.warming import seconds_to
from assistant.facts.stuff import STUFF, stuff_words
from assistant.limits import Limit, limit_named
from assistant.say.amounts import by_eye
from assistant.screen.facts import Big


def big(batch: Batch, at: datetime) -> Big | None:
    """The number to show across the room; None where the stage has none.

    at : now, for a date to keep by
    """
    limit = stopping(batch)
    if limit is not None:
        return _stopped(batch, limit)
    if batch.ended == "finished" and batch.in_store:
        words = keep_by_words(batch, at)
        return None if batch.barred else Big(label="Keep by", value=words)
    stage = batch.stage
    return None if stage is None else _BY_KIND[stage.kind](batch, stage)


def stopping(batch: Batch) -> Limit | None:
    """The limit that holds the batch."""
    return limit_named(batch.stopped_by)


def parted(quantity: Quantity) -> tuple[str, str]:
    """An amount as number and unit, as `say` writes them.

    >>> parted(Quantity(value=2430, unit="g"))
    ('2.43', 'kg')
    """
    words = by_eye(quantity, bare=True)
    number, _, unit = words.partition(" ")
    return number, unit


def _stopped(batch: Batch, limit: Limit) -> Big:
    last = batch.last(limit.quantity)
    bound = Quantity(value=limit.bound, unit="pH" if limit.quantity == "ph" else "degC", exact=True)
    if last is None:
        return Big(label="Stopped", value="", note=f"limit {by_eye(bound)}")
    number, unit = parted(_exact(last.base, bound.unit))
    side = "above" if limit.side == "above" else "below"
    label = "pH" if limit.quantity == "ph" else limit.quantity
    return Big(label=label, value=number, unit=unit, note=f"{side} the limit of {by_eye(bound)}")


def _exact(value: float, unit: Unit) -> Quantity:
    return Quantity(value=round(value, 3), unit=unit, exact=True)


def _measure(batch: Batch, stage: Measure) -> Big | None:
    """What to expect, where it follows from what is known; a reading off the mark otherwise."""
    label = STUFF[stage.reading].words
    last = batch.last(stage.reading)
    if stage.reading == "ph":
        targets = batch.recipe.targets
        note = f"aim for {targets.ph_low:g} to {targets.ph_high:g}"
        here = last is not None and last.stage == stage.id
        if not here or last is None:
            return Big(label="pH wanted", value=f"{targets.ph_low:g}–{targets.ph_high:g}")
        return Big(label="pH", value=parted(_exact(last.base, "pH"))[0], note=note)
    if stage.reading == "juice" and batch.start is not None and batch.recipe.base != "juice":
        number, unit = parted(Quantity(value=made_up_volume(batch), unit="ml"))
        return Big(label="juice, about", value=number, unit=unit, note="measure what you have")
    if stage.reading == "brix":
        number, unit = parted(_exact(batch.recipe.targets.brix, "Brix"))
        return Big(label=f"{label}, aim", value=number, unit=unit)
    return None


def _add(batch: Batch, stage: Add) -> Big | None:
    planned = amount(batch, stage.amount)
    if planned is None:
        return None
    number, unit = parted(planned.likely())
    return Big(label=stuff_words(stage.amount), value=number, unit=unit)


def _heat(batch: Batch, stage: Heat) -> Big:
    last = batch.last("temperature")
    target = by_eye(_exact(stage.target_c, "degC"))
    if last is None or last.stage != stage.id:
        number, unit = parted(_exact(stage.target_c, "degC"))
        return Big(label="warm it to", value=number, unit=unit, note="call out the thermometer")
    number, unit = parted(_exact(last.base, "degC"))
    left = max(1, round(stage.target_c - last.base))
    seconds = seconds_to(batch, stage.target_c)
    about = "" if seconds is None else f", about {by_eye(Quantity(value=seconds, unit='s'))}"
    return Big(
        label="in the pan",
        value=number,
        unit=unit,
        note=f"{_degrees(left)} to go to {target}{about}",
    )


def _degrees(count: int) -> str:
    return f"{count} {'degree' if count == 1 else 'degrees'}"


def _hold(batch: Batch, stage: Hold) -> Big:
    """The run that goes on now: what is counted of it, by what was read."""
    run = current_run(batch, stage)
    target = by_eye(_exact(stage.target_c, "degC"))
    last = batch.last("temperature")
    if last is not None and last.base < stage.target_c:
        number, unit = parted(_exact(last.base, "degC"))
        return Big(label="too cold", value=number, unit=unit, note=f"back to {target}")
    needed = by_eye(Quantity(value=stage.seconds, unit="s"))
    note = f"counted of {needed} at {target}"
    return Big(label="held", value=f"{round(run.seconds)}", unit="s", note=note)


def _rest(_batch: Batch, stage: Rest) -> Big:
    number, unit = parted(Quantity(value=stage.minutes, unit="min"))
    return Big(label="rest", value=number, unit=unit)


def _reduce(batch: Batch, stage: Reduce) -> Big:
    target = figure("target_weight", stage, batch)
    last = batch.last("yield")
    if last is None or last.stage != stage.id:
        number, unit = parted(target)
        return Big(label="boil down to", value=number, unit=unit)
    number, unit = parted(Quantity(value=last.base, unit="g"))
    return Big(label="in the pan", value=number, unit=unit, note=f"down to {by_eye(target)}")


def _cool(batch: Batch, stage: Cool) -> Big:
    below = by_eye(_exact(stage.below_c, "degC"))
    last = batch.last("temperature")
    if last is None or last.stage != stage.id:
        number, unit = parted(_exact(stage.below_c, "degC"))
        return Big(label="cool to", value=number, unit=unit, note="or less")
    number, unit = parted(_exact(last.base, "degC"))
    return Big(label="in the pan", value=number, unit=unit, note=f"cool to {below} or less")


def _bottle(batch: Batch, _stage: Bottling) -> Big | None:
    stock = syrup(batch)
    if stock is None:
        return None
    size = by_eye(Quantity(value=HALF_LITRE, unit="ml"))
    return Big(label="bottles, about", value=f"{bottles_for(stock)}", note=f"of {size}")


def _none(_batch: Batch, _stage: Do | Option) -> None:
    return None


_BY_KIND: dict[str, Callable[[Batch, Any], Big | None]] = {
    "measure": _measure,
    "add": _add,
    "do": _none,
    "heat": _heat,
    "hold": _hold,
    "rest": _rest,
    "reduce": _reduce,
    "cool": _cool,
    "option": _none,
    "bottle": _bottle,
}
