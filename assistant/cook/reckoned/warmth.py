"""How long until a temperature, and what boiling tells."""

from assistant.base.errors import OutOfRange
from assistant.calc.boiling import boiling_point, brix_boiling_at
from assistant.calc.heat import after_sugar
from assistant.cook.amounts import amount
from assistant.cook.batch import Batch
from assistant.cook.holding import hold_stage
from assistant.cook.kinds import Cool, Heat, Hold
from assistant.cook.reckoned.pan import Answer, asks_for_brix, brix, named_source, no_pan, pan
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.warming import seconds_to
from assistant.facts.events import Ask

COLDEST, HOTTEST = 0.0, 112.0
"""What a pan of syrup on a stove or in water can come to. [degC]"""
SAME_C = 0.5


def time_to(batch: Batch, event: Ask) -> Answer:
    """How long until the pan is so warm or so cool, by its own readings."""
    target = event.number("target")
    if target is None or not COLDEST < target < HOTTEST:
        return (Line(id="reckoned.no_such_heat", rank="question"),)
    run = _run(batch)
    if _just_said(batch, event, target):
        return ()
    if not run:
        return (Line(id="reckoned.needs_temperature", rank="question"),)
    now = run[-1]
    facts: dict[str, Fact] = {"target": _degrees(target), "now": _degrees(now)}
    if abs(now - target) < SAME_C or _past(batch, now, target):
        return (Line(id="reckoned.heat_there", rank="answer", facts=facts),)
    seconds = seconds_to(batch, target)
    if seconds is not None:
        facts["time"] = Quantity(value=seconds, unit="s")
        return (Line(id="reckoned.time_to", rank="answer", facts=facts), *_too_hot(batch, target))
    if len(run) < 2:
        line = Line(id="reckoned.one_more_reading", rank="question", facts=facts)
        return (line, *_too_hot(batch, target))
    return (Line(id="reckoned.not_that_way", rank="answer", facts=facts), *_too_hot(batch, target))


def _just_said(batch: Batch, event: Ask, target: float) -> bool:
    """Whether the reading in the same breath was answered with the time to just that."""
    read, stage = batch.last("temperature"), batch.stage
    told = any(line.id == "to_go_in" for line in batch.last_reply.lines)
    same = isinstance(stage, Heat) and stage.target_c == target
    return read is not None and read.at == event.at and told and same


def _run(batch: Batch) -> list[float]:
    """The temperatures read in this stage."""
    stage = batch.stage.id if batch.stage else None
    return [t.base for t in batch.taken if t.what == "temperature" and t.stage == stage]


def _past(batch: Batch, now: float, target: float) -> bool:
    """Whether it is past it the way this stage goes."""
    if isinstance(batch.stage, Cool):
        return now < target
    return isinstance(batch.stage, Heat | Hold) and now > target


def _too_hot(batch: Batch, target: float) -> Answer:
    hold = hold_stage(batch)
    if hold is None or target <= hold.ceiling_c or not isinstance(batch.stage, Heat | Hold):
        return ()
    facts = {"ceiling": _degrees(hold.ceiling_c)}
    return (Line(id="reckoned.over_ceiling", rank="caution", facts=facts),)


def boils_at(batch: Batch, event: Ask) -> Answer:
    """Where what is in the pan, or a syrup of so many Brix, boils."""
    named, height, there = event.number("brix"), event.number("height") or 0.0, pan(batch)
    if named is None and there is None:
        return no_pan(batch)
    if named is None and there is not None and asks_for_brix(there):
        return asks_for_brix(there)
    at = named if named is not None else (there.brix if there else 0.0)
    try:
        found = boiling_point(at, height)
    except OutOfRange:
        return (Line(id="reckoned.no_such_boil", rank="question"),)
    facts: dict[str, Fact] = {"brix": brix(at), "boils": _degrees(round(found.likely))}
    stale = named_source(there) if named is None and there else ()
    return (Line(id="reckoned.boils_at", rank="answer", facts=facts), *stale)


def brix_boiling(_batch: Batch, event: Ask) -> Answer:
    """The Brix of a syrup that boils so hot; nothing of it counts as read."""
    temp, height = event.number("temp"), event.number("height") or 0.0
    try:
        found = brix_boiling_at(temp if temp is not None else 0.0, height)
    except OutOfRange:
        return (Line(id="reckoned.no_such_boil", rank="question"),)
    low, likely, high = (round(x) for x in (found.low, found.likely, found.high))
    told = Quantity(value=likely, unit="Brix", low=low, high=high)
    return (Line(id="reckoned.brix_boiling", rank="answer", facts={"brix": told}),)


def sugar_cools(batch: Batch, event: Ask) -> Answer:
    """How far the main sugar will cool the juice."""
    there, read = pan(batch), batch.last("temperature")
    planned = amount(batch, "main_sugar") if "main_sugar" in batch.recipe.amounts else None
    if there is None:
        return no_pan(batch)
    if planned is None or batch.addition("main_sugar") is not None:
        return (Line(id="reckoned.sugar_is_in", rank="answer"),)
    if read is None:
        return (Line(id="reckoned.needs_temperature", rank="question"),)
    sugar = event.number("added") or planned.value
    try:
        after = after_sugar(there.mass_g, there.brix, read.base, sugar)
    except OutOfRange:
        return (Line(id="reckoned.no_such_heat", rank="question"),)
    facts: dict[str, Fact] = {"now": _degrees(read.base), "after": _degrees(round(after))}
    return (Line(id="reckoned.sugar_cools", rank="answer", facts=facts),)


def _degrees(value: float) -> Quantity:
    return Quantity(value=value, unit="degC", exact=True)
