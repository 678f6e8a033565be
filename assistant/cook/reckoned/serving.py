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
    if size is None and people is None and event.number("glass") is not None:
        size = drink.glass.glass_ml
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
        *_against(batch, need, size, event.number("bottles")),
        Line(id="serving.crowd_mix", rank="detail", facts=facts),
        _fresh(),
        *((Line(id="serving.each", rank="detail"),) if each is None else ()),
    )


def serves(batch: Batch, event: Ask) -> Answer:
    """How many glasses so many bottles make, or all that there is."""
    drink, count = mixed(batch, event), event.number("bottles")
    if not isinstance(drink, Mixed):
        return drink
    stock, size = syrup(batch), _bottle_ml(batch)
    if count is not None and count <= 0:
        return (Line(id="serving.how_many", rank="question"),)
    bottles = count if count is not None else (batch.in_store if batch.bottled else None)
    ml = bottles * size if bottles is not None else (stock.volume_ml.likely if stock else 0.0)
    glasses = int(ml / drink.glass.syrup_ml + 1e-9)
    facts: dict[str, Fact] = {
        "syrup": millilitres(ml),
        "glasses": glasses,
        "glass": millilitres(drink.glass.glass_ml),
        "people": int(glasses // EACH),
        "each": int(size / drink.glass.syrup_ml + 1e-9),
        "size": millilitres(size),
    }
    a_bottle = Line(id="serving.a_bottle", rank="detail", facts=facts)
    return (Line(id="serving.serves", rank="answer", facts=facts), *by_which(drink), a_bottle)


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
    if filled is None or not filled.volume_ml:
        return HALF_LITRE
    return filled.volume_ml / filled.count


def _against(batch: Batch, need: float, size: float, named: float | None) -> Answer:
    """What there is of it: the bottles that were named, those in store, or the syrup to expect."""
    want = ceil(need / size - 1e-9)
    if named is not None:
        short = max(0, want - int(named))
        line = "serving.named_short" if short else "serving.named_enough"
        return (Line(id=line, rank="answer", facts={"have": int(named), "short": short}),)
    if batch.bottled is None:
        return _expected(batch, need)
    short = max(0, want - batch.in_store)
    line = "serving.short" if short else "serving.enough"
    return (Line(id=line, rank="answer", facts={"have": batch.in_store, "short": short}),)


def _expected(batch: Batch, need: float) -> Answer:
    stock = syrup(batch)
    made = stock.volume_ml.likely if stock else 0.0
    facts = {"made": millilitres(made), "short": millilitres(max(0.0, need - made))}
    line = "serving.makes_enough" if made >= need else "serving.makes_short"
    return (Line(id=line, rank="answer", facts=facts),)


def _too_much(amount: float | None) -> Answer:
    if amount is not None and amount > _MOST_ML:
        return (Line(id="serving.too_many", rank="question"),)
    return ()
