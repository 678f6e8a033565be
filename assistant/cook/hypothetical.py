""" "What if I have only three hundred grams of sugar?": the batch as it would be."""

from collections.abc import Sequence
from dataclasses import replace
from math import isfinite

from assistant.base.errors import OutOfRange
from assistant.base.units import BASE_UNIT, Unit, dimension, to_base
from assistant.calc.mash import Syrup
from assistant.cook.amounts import amount, quantity
from assistant.cook.batch import Batch, Taken
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import juice, syrup
from assistant.facts.events import Ask, Reading, What
from assistant.facts.stuff import RANGES, read_as, stuff_of, stuff_words

Answer = tuple[Line, ...]
_TRIAL = 1000.0
"""A base to reckon from where none was measured yet. [g or ml]"""
_ENOUGH = 0.99
"""Share of the need that counts as all of it: what scales and spoons lose anyway."""
_TOLD_FIRST = ("crushing_sugar", "main_sugar", "hot_water", "vinegar")


def what_if(batch: Batch, event: Ask) -> Answer:
    """What an amount of something would come to in this batch."""
    if event.value is None or event.unit is None or event.value <= 0:
        return (Line(id="what_if_how", rank="answer"),)
    base = batch.recipe.base
    if event.about in (None, base, "fruit") and _could_be(base, event.unit):
        return _of_base(batch, event.value, event.unit)
    names = _named(batch, event.about)
    if not names:
        return (Line(id="not_in_recipe", rank="answer"),)
    have = to_base(event.value, event.unit)
    if dimension(event.unit) not in _kinds(batch, names):
        return (Line(id="what_if_other_unit", rank="answer"),)
    return _of_part(batch, names, have)


def _could_be(base: What, unit: Unit) -> bool:
    kinds = ("mass",) if base == "fruit" else ("mass", "volume")
    return dimension(unit) in kinds


def _of_base(batch: Batch, value: float, unit: Unit) -> Answer:
    """With so much fruit: what goes in, and what comes out."""
    base = to_base(value, unit)
    low, high = RANGES[batch.recipe.base]
    if not low <= base <= high:
        return (Line(id="what_if_never", rank="answer"),)
    trial = with_base(batch, value, unit)
    parts = {name: found for name in _TOLD_FIRST if (found := planned_for(trial, name))}
    words = ", ".join(f"{{{name}}} of {_plain(name)}" for name in parts)
    have = Quantity(value=value, unit=unit, exact=True)
    what = batch.fruit if batch.recipe.base == "fruit" and batch.fruit else batch.recipe.base
    told = Line(
        id="what_if_base",
        rank="answer",
        text=f"{{have}} of {{what}} takes {words}." if parts else "{have} of {what}.",
        facts={"have": have, "what": what, **parts},
    )
    return (told, *_comes_to(trial))


def _comes_to(trial: Batch) -> Answer:
    stock = syrup(trial)
    if stock is None:
        return ()
    facts = {"syrup": quantity(stock.volume_ml, "ml")}
    return (Line(id="what_if_yield", rank="answer", facts=facts),)


def with_base(batch: Batch, value: float, unit: Unit) -> Batch:
    """The batch as it would be begun with so much."""
    reading = Reading(at=batch.begun_at, what=batch.recipe.base, value=value, unit=unit)
    first = batch.recipe.stages[0].id
    return replace(batch, taken=(Taken(reading, first),), added=(), stage_index=1, ended=None)


def planned_for(batch: Batch, name: str) -> Quantity | None:
    """What the plan has of an amount; None where the recipe has none of it."""
    if name not in batch.recipe.added:
        return None
    found = amount(batch, name)
    return None if found is None else found.likely()


def _plain(name: str) -> str:
    return stuff_words(stuff_of(name))


def _named(batch: Batch, about: str | None) -> list[str]:
    return [n for n in batch.recipe.added if about in (n, read_as(n))]


def _kinds(batch: Batch, names: Sequence[str]) -> set[str]:
    found = (amount(with_base(batch, _TRIAL, _unit(batch)), name) for name in names)
    return {dimension(each.unit) for each in found if each}


def _unit(batch: Batch) -> Unit:
    return batch.start.reading.unit if batch.start else BASE_UNIT["mass"]


def _of_part(batch: Batch, names: Sequence[str], have: float) -> Answer:
    """So much of an ingredient: whether it is enough, for how much fruit it is, what it makes."""
    trial = batch if batch.start else with_base(batch, _TRIAL, "g")
    need = sum(_need(trial, name) for name in names)
    gone = sum(batch.total(name) for name in names)
    start = trial.start
    if start is None or need <= 0 or not isfinite(need):
        return (Line(id="not_in_recipe", rank="answer"),)
    unit: Unit = "ml" if "volume" in _kinds(batch, names) else "g"
    facts: dict[str, Fact] = {"need": Quantity(value=max(0.0, need - gone), unit=unit)}
    if batch.start is not None and have >= _ENOUGH * (need - gone):
        return (Line(id="what_if_enough", rank="answer", facts=facts),)
    measured = dimension(start.reading.unit)
    base = Quantity(value=start.base * (have + gone) / need, unit=BASE_UNIT[measured])
    if base.value > RANGES[batch.recipe.base][1]:
        return (Line(id="what_if_never", rank="answer"),)
    facts |= {"base": base, "what": batch.recipe.base}
    if batch.start is None:
        return (Line(id="what_if_for", rank="answer", facts=facts),)
    short = Line(id="what_if_short", rank="answer", facts=facts)
    return (short, *_sweetness(batch, names, have))


def _need(batch: Batch, name: str) -> float:
    """All that is to go in, what went in already among it. [g or ml]"""
    if batch.addition(name) is not None:
        return batch.total(name)
    planned = amount(batch, name)
    return planned.value if planned else 0.0


def _sweetness(batch: Batch, names: Sequence[str], have: float) -> Answer:
    """What too little sugar makes of the batch."""
    stock = juice(batch)
    if "main_sugar" not in names or stock is None or batch.addition("main_sugar"):
        return ()
    before = [n for n in names if n != "main_sugar" and batch.addition(n) is None]
    left = have - sum(_need(batch, name) for name in before)
    try:
        made = Syrup(stock.mass_g.likely, stock.brix.likely).sweetened(max(0.0, left))
    except OutOfRange:
        return ()
    facts = {
        "brix": Quantity(value=made.brix, unit="Brix"),
        "target": Quantity(value=batch.recipe.targets.brix, unit="Brix", exact=True),
    }
    return (Line(id="what_if_thin", rank="caution", facts=facts),)
