"""A glass, a jug, a crowd: syrup, water and bottles for it, by this batch's own Brix."""

from math import ceil

from assistant.cook.batch import Batch
from assistant.cook.reckoned.glass import Mixed, by_which, mixed
from assistant.cook.reckoned.pan import Answer, brix, millilitres, no_amount
from assistant.cook.reply import Fact, Line
from assistant.cook.stock import HALF_LITRE, syrup
from assistant.facts.events import Ask

EACH = 2.0
"""Glasses for each guest where nobody says how many (common practice, no source). [-]"""
MOST_PEOPLE = 5000.0
_MOST_ML = 200_000.0


def to_water(batch: Batch, event: Ask) -> Answer:
    """Syrup to so much water."""
    water, drink = event.number("water"), mixed(batch, event)
    refused = no_amount(water) or _too_much(water)
    if refused or water is None:
        return refused
    if not isinstance(drink, Mixed):
        return drink
    need = water / drink.glass.water_parts
    facts: dict[str, Fact] = {
        "water": millilitres(water),
        "syrup": millilitres(need),
        "parts": drink.parts,
        "glasses": int((need + water) // drink.glass.glass_ml),
        "glass": millilitres(drink.glass.glass_ml),
    }
    glasses = Line(id="serving.glasses", rank="detail", facts=facts)
    return (
        Line(id="serving.to_water", rank="do", facts=facts),
        *by_which(drink),
        glasses,
        _fresh(),
    )


def jug(batch: Batch, event: Ask) -> Answer:
    """Syrup and water for a jug of a size, or for so many people a glass each."""
    drink = mixed(batch, event)
    if not isinstance(drink, Mixed):
        return drink
    people, each = event.number("people"), event.number("each") or 1.0
    size = event.number("jug")
    if size is None:
        size = (people or 0.0) * each * drink.glass.glass_ml
    if size <= 0 or each <= 0:
        return (Line(id="serving.how_many", rank="question"),)
    refused = _too_much(size)
    if refused:
        return refused
    facts: dict[str, Fact] = {
        **_shares(drink, size),
        "glasses": int(round(size / drink.glass.glass_ml, 6)),
        "glass": millilitres(drink.glass.glass_ml),
    }
    return (Line(id="serving.jug", rank="do", facts=facts), *by_which(drink), _fresh())


def _shares(drink: Mixed, size: float) -> dict[str, Fact]:
    times = size / drink.glass.glass_ml
    return {
        "syrup": millilitres(times * drink.glass.syrup_ml),
        "water": millilitres(times * drink.glass.water_ml),
    }


def crowd(batch: Batch, event: Ask) -> Answer:
    """Syrup, water and bottles for so many people, against the bottles that there are."""
    drink = mixed(batch, event)
    if not isinstance(drink, Mixed):
        return drink
    people, each = event.number("people"), event.number("each")
    glasses = (people or 0.0) * (EACH if each is None else each)
    if glasses <= 0:
        return (Line(id="serving.how_many", rank="question"),)
    if (people or 0.0) > MOST_PEOPLE or glasses > 10 * MOST_PEOPLE:
        return (Line(id="serving.too_many", rank="question"),)
    size = _bottle_ml(batch)
    need = glasses * drink.glass.syrup_ml
    facts: dict[str, Fact] = {
        **_shares(drink, glasses * drink.glass.glass_ml),
        "glasses": ceil(glasses),
        "glass": millilitres(drink.glass.glass_ml),
        "bottles": ceil(need / size - 1e-9),
        "size": millilitres(size),
        "brix": brix(drink.syrup_brix),
        "parts": drink.parts,
    }
    return (
        Line(id=_CROWD[drink.known], rank="answer", facts=facts),
        *_against(batch, need, size),
        Line(id="serving.crowd_mix", rank="detail", facts=facts),
        _fresh(),
        *((Line(id="serving.each", rank="detail"),) if each is None else ()),
    )


_CROWD = {
    "read": "serving.crowd_read",
    "since": "serving.crowd_stale",
    "reckoned": "serving.crowd_reckoned",
    "planned": "serving.crowd_planned",
}


def _fresh() -> Line:
    """A drink is thinned: what keeps the syrup does not keep it."""
    return Line(id="serving.mix_fresh", rank="detail")


def _bottle_ml(batch: Batch) -> float:
    """What a bottle holds, the mean where there are several sizes. [ml]"""
    filled = batch.bottled
    if filled is None:
        return HALF_LITRE
    if filled.size_ml:
        return filled.size_ml
    sized = [lot for lot in filled.lots if lot.size_ml]
    count = sum(lot.count for lot in sized)
    return sum(lot.count * (lot.size_ml or 0.0) for lot in sized) / count if count else HALF_LITRE


def _against(batch: Batch, need: float, size: float) -> Answer:
    """What there is of it: bottles in store once it is filled, else the syrup that is expected."""
    if batch.bottled is not None:
        have, want = batch.in_store, ceil(need / size - 1e-9)
        facts: dict[str, Fact] = {"have": have, "short": max(0, want - have)}
        line = "serving.enough" if have >= want else "serving.short"
        return (Line(id=line, rank="answer", facts=facts),)
    stock = syrup(batch)
    made = stock.volume_ml.likely if stock else 0.0
    facts = {"made": millilitres(made), "short": millilitres(max(0.0, need - made))}
    line = "serving.makes_enough" if made >= need else "serving.makes_short"
    return (Line(id=line, rank="answer", facts=facts),)


def _too_much(amount: float | None) -> Answer:
    if amount is not None and amount > _MOST_ML:
        return (Line(id="serving.too_many", rank="question"),)
    return ()
