"""How large: the recipe so many times, pans, bottles, and what a volume of syrup weighs."""

from assistant.base.errors import OutOfRange
from assistant.calc.density import mass_of_volume, volume
from assistant.calc.scale import FILL_SHARE, bottles_from, fruit_for_bottles, mash_ml, pan_fit
from assistant.calc.spread import Spread
from assistant.cook.batch import Batch
from assistant.cook.hypothetical import planned_for, with_base
from assistant.cook.reckoned.pan import (
    Answer,
    asks_for_brix,
    brix,
    grams,
    millilitres,
    named_source,
    no_amount,
    no_pan,
    pan,
)
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import HALF_LITRE, start_mass, syrup
from assistant.facts.events import Ask
from assistant.facts.stuff import RANGES


def scaled(batch: Batch, event: Ask) -> Answer:
    """The recipe with so many times what it starts from: sugar in all, what it makes, the rest."""
    times, start = event.number("times"), batch.start
    refused = no_amount(times)
    if refused or times is None:
        return refused
    if start is None:
        return no_pan(batch)
    low, high = RANGES[batch.recipe.base]
    if not low <= start.base * times <= high:
        return (Line(id="what_if_never", rank="answer"),)
    value, unit = start.reading.value * times, start.reading.unit
    return _makes(with_base(batch, value, unit), Quantity(value=value, unit=unit, exact=True))


def _makes(trial: Batch, have: Quantity) -> Answer:
    """What a batch of that size takes and makes."""
    stock, base = syrup(trial), trial.recipe.base
    if stock is None:
        return no_pan(trial)
    planned = {name: found for name in _PARTS if (found := planned_for(trial, name)) is not None}
    sugar = sum(planned[name].value for name in ("crushing_sugar", "main_sugar") if name in planned)
    facts: dict[str, Fact] = {
        "have": have,
        "what": trial.fruit.replace("-", " ") if trial.fruit and base == "fruit" else base,
        "sugar": grams(sugar),
        "syrup": millilitres(stock.volume_ml.likely),
    }
    line = "reckoned.scaled" if sugar else "reckoned.scaled_plain"
    return (Line(id=line, rank="answer", facts=facts), *(_part(trial, n) for n in planned))


_PARTS = ("crushing_sugar", "main_sugar", "hot_water", "vinegar", "citric_acid")


def _part(trial: Batch, name: str) -> Line:
    amount = planned_for(trial, name)
    facts: dict[str, Fact] = {
        "amount": amount if amount is not None else grams(0.0),
        "stuff": trial.recipe.words(name),
    }
    return Line(id="how_much", rank="detail", facts=facts)


def fits_pan(batch: Batch, event: Ask) -> Answer:
    """Whether all that is in a pan at once fits one of a size; how large it must be at least."""
    holds, start = event.number("pan"), batch.start
    if start is None:
        return no_pan(batch)
    most = _most_at_once(batch)
    if most is None:
        return no_pan(batch)
    needed = millilitres(most / FILL_SHARE["heated"])
    if holds is None:
        return (_pan_line("reckoned.pan_needed", most, needed), _hot())
    refused = no_amount(holds)
    if refused:
        return refused
    try:
        fits = pan_fit(most, holds, "heated").fits
    except OutOfRange:
        return (Line(id="reckoned.no_amount", rank="question"),)
    line = "reckoned.pan_fits" if fits else "reckoned.pan_too_small"
    return (_pan_line(line, most, needed), _hot())


def _pan_line(line: str, most: float, needed: Fact) -> Line:
    facts: dict[str, Fact] = {"volume": millilitres(most), "needed": needed}
    return Line(id=line, rank="answer", facts=facts)


def _hot() -> Line:
    return Line(id="reckoned.pan_hot", rank="detail")


def _most_at_once(batch: Batch) -> float | None:
    """The larger of the mash and the syrup. [ml]"""
    stock = syrup(batch)
    if stock is None:
        return None
    sizes = [stock.volume_ml.likely]
    if batch.recipe.base == "fruit":
        water = _share(batch, "hot_water")
        sugar = _share(batch, "crushing_sugar")
        sizes.append(mash_ml(start_mass(batch), water, sugar))
    return max(sizes)


def _share(batch: Batch, name: str) -> float:
    """What went in under a name, or is planned. [g or ml]"""
    rule, start = batch.recipe.amounts.get(name), batch.start
    if batch.total(name):
        return batch.total(name)
    share = getattr(rule, "share", 0.0)
    return start.base * share if start else 0.0


def bottles_of(batch: Batch, event: Ask) -> Answer:
    """How many bottles of a size the syrup fills."""
    size, stock = event.number("size"), syrup(batch)
    refused = no_amount(size)
    if refused or size is None:
        return refused
    if stock is None:
        return no_pan(batch)
    try:
        filled = bottles_from(stock.volume_ml.likely, size)
    except OutOfRange:
        return (Line(id="reckoned.no_amount", rank="question"),)
    facts: dict[str, Fact] = {
        "count": filled.full,
        "size": millilitres(size),
        "left": millilitres(filled.left_ml),
        "syrup": millilitres(stock.volume_ml.likely),
    }
    whole = filled.left_ml < 1
    return (
        Line(
            id="reckoned.bottles_even" if whole else "reckoned.bottles_of",
            rank="answer",
            facts=facts,
        ),
    )


def fruit_for(batch: Batch, event: Ask) -> Answer:
    """How much of what this batch starts from so many bottles would take, by its own yield."""
    count, size = event.number("count"), event.number("size") or HALF_LITRE
    refused = no_amount(count)
    stock, mass = syrup(batch), start_mass(batch)
    if refused or count is None:
        return refused
    if stock is None or not mass:
        return no_pan(batch)
    per_kilo = Spread.exactly(1000 * stock.volume_ml.likely / mass)
    try:
        need = fruit_for_bottles(count, size, per_kilo)
    except OutOfRange:
        return (Line(id="reckoned.no_amount", rank="question"),)
    facts: dict[str, Fact] = {
        "need": grams(need.likely),
        "what": batch.recipe.base,
        "count": int(count),
        "size": millilitres(size),
    }
    return (Line(id="reckoned.fruit_for", rank="answer", facts=facts),)


def weighs(batch: Batch, event: Ask) -> Answer:
    """What a volume of the syrup weighs, or all of it."""
    there, asked = pan(batch), event.number("volume")
    if there is None:
        return no_pan(batch)
    if asks_for_brix(there):
        return asks_for_brix(there)
    ml = asked if asked is not None else there.volume_ml
    refused = no_amount(ml)
    if refused:
        return refused
    mass = mass_of_volume(ml, min(85.0, there.brix))
    facts: dict[str, Fact] = {
        "volume": millilitres(ml),
        "mass": grams(mass),
        "brix": brix(there.brix),
    }
    return (Line(id="reckoned.weighs", rank="answer", facts=facts), *named_source(there))


def room(batch: Batch, event: Ask) -> Answer:
    """How much room a weight of the syrup takes."""
    there, asked = pan(batch), event.number("mass")
    refused = no_amount(asked)
    if refused or asked is None:
        return refused
    if there is None:
        return no_pan(batch)
    if asks_for_brix(there):
        return asks_for_brix(there)
    facts: dict[str, Fact] = {
        "mass": grams(asked),
        "volume": millilitres(volume(asked, min(85.0, there.brix))),
        "brix": brix(there.brix),
    }
    return (Line(id="reckoned.takes_room", rank="answer", facts=facts), *named_source(there))
