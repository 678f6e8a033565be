""" "Convert two cups to millilitres", "how many grams is a teaspoon of citric acid?"."""

from assistant.base.errors import OutOfRange, WrongUse
from assistant.base.units import Unit, convert, dimension
from assistant.calc.measures import SpoonOrCup, g_to_spoon, item_weight, spoon_to_g
from assistant.calc.spread import Spread
from assistant.cook.amounts import quantity
from assistant.cook.reply import Fact, Line, Quantity
from assistant.facts.events import Ask

Answer = tuple[Line, ...]
_FIGURES = 3
"""Figures told of a converted amount; more than a kitchen's scales and spoons can tell apart."""

MOST = 1e8
"""A hundred tonnes in grams: past it nobody asks from a kitchen."""


def converted(event: Ask) -> Answer:
    """An amount in another unit; by the weight of the thing between spoons and scales."""
    value, unit, to = event.value, event.unit, event.to
    if value is None or unit is None or to is None:
        return (Line(id="convert_how", rank="answer"),)
    same = dimension(unit) == dimension(to)
    if abs(value) > MOST or (same and abs(convert(value, unit, to)) > MOST):
        return (Line(id="beyond_a_kitchen", rank="answer"),)
    if same:
        there = _rounded(convert(value, unit, to))
        facts: dict[str, Fact] = {
            "given": Quantity(value=value, unit=unit, exact=True),
            "there": Quantity(value=there, unit=to, exact=True),
        }
        return (Line(id="converted", rank="answer", facts=facts),)
    return _by_weight(value, unit, to, event.about)


def _rounded(value: float) -> float:
    """So many figures, and no further than a tenth.

    >>> _rounded(72.222), _rounded(1474.2), _rounded(0.0352)
    (72.2, 1474.0, 0.0352)
    """
    return float(f"{value:.{_FIGURES}g}") if abs(value) < 1000 else float(round(value))


def _by_weight(value: float, unit: Unit, to: Unit, about: str | None) -> Answer:
    """From spoons and cups to weight or back; the spread is the spoon's."""
    item = (about or "").replace("_", " ")
    try:
        there = _weighed(item, value, unit) if dimension(to) == "mass" else None
        if there is None and dimension(unit) == "mass" and dimension(to) == "volume":
            there = _spooned(item, value, unit)
        weigh_it = item_weight(item).weigh_it
    except (WrongUse, OutOfRange):
        there, weigh_it = None, False
    if there is None:
        return (Line(id="cannot_convert", rank="answer"),)
    facts: dict[str, Fact] = {
        "given": Quantity(value=value, unit=unit, exact=True),
        "stuff": item,
        "there": _in_unit(there, to),
    }
    caution = (Line(id="weigh_it", rank="caution"),) if weigh_it else ()
    return (Line(id="converted_by_weight", rank="answer", facts=facts), *caution)


def _weighed(item: str, value: float, unit: Unit) -> tuple[Spread, Unit] | None:
    if dimension(unit) != "volume":
        return None
    measure: SpoonOrCup = unit if unit in ("tsp", "tbsp", "cup") else "tsp"
    return spoon_to_g(item, measure, convert(value, unit, measure)), "g"


def _spooned(item: str, value: float, unit: Unit) -> tuple[Spread, Unit]:
    return g_to_spoon(item, convert(value, unit, "g"), "tsp"), "tsp"


def _in_unit(found: tuple[Spread, Unit], to: Unit) -> Quantity:
    spread, unit = found
    low, likely, high = (convert(v, unit, to) for v in (spread.low, spread.likely, spread.high))
    return quantity(Spread(low, likely, high), to)
