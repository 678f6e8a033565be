"""Two syrups in one pan, by their masses and their Brix."""

from assistant.base.errors import OutOfRange
from assistant.calc.density import mass_of_volume
from assistant.calc.sugar import blend, brix_of
from assistant.cook.batch import Batch
from assistant.cook.reckoned.pan import (
    Answer,
    Pan,
    asks_for_brix,
    brix,
    closed_to_change,
    grams,
    named_source,
    no_pan,
    pan,
)
from assistant.cook.reply import Fact, Line
from assistant.facts.events import Ask, Given


def blended(batch: Batch, event: Ask) -> Answer:
    """How much of another syrup brings this one to a Brix, or what so much of it makes."""
    other, there = event.number("other"), pan(batch)
    refused = closed_to_change(batch) or _no_other(event)
    if refused or other is None:
        return refused
    if there is None:
        return no_pan(batch)
    needs = asks_for_brix(there)
    if needs:
        return needs
    made = _made(batch, event, there, other)
    return made if made[0].rank == "question" else (*made, *_as_good_as_the_worse(there))


def _no_other(event: Ask) -> Answer:
    """What must be known of the other syrup first."""
    if event.number("barred"):
        return (Line(id="reckoned.other_barred", rank="limit"),)
    other = event.number("other")
    if other is None:
        return (Line(id="reckoned.other_brix", rank="question"),)
    if not 0 < other < 100:
        return (Line(id="reckoned.no_such_other", rank="question", facts={"other": brix(other)}),)
    return ()


def _made(batch: Batch, event: Ask, there: Pan, other: float) -> Answer:
    amount, target = _amount_g(event, other), event.number("target")
    if amount is not None and target is None:
        return (_with_so_much(there, other, amount),)
    aim = target if target is not None else batch.recipe.targets.brix
    facts: dict[str, Fact] = {"target": brix(aim), "brix": brix(there.brix), "other": brix(other)}
    try:
        need = blend(there.mass_g, there.brix, other, aim)
    except OutOfRange:
        line = "reckoned.blend_outside" if target is not None else "reckoned.other_amount"
        return (Line(id=line, rank="question", facts=facts),)
    facts |= {"need": grams(need), "made": grams(there.mass_g + need)}
    most = event.number("most")
    if most is not None and need > most:
        facts["most"] = grams(most)
        return (Line(id="reckoned.blend_short", rank="answer", facts=facts),)
    return (Line(id="reckoned.blend_need", rank="do", facts=facts),)


def _amount_g(event: Ask, other: float) -> float | None:
    """How much there is of the other syrup. [g]"""
    named: Given | None = next((one for one in event.given if one.name == "amount"), None)
    if named is None or named.base <= 0:
        return None
    weighed = named.unit in ("g", "kg", "mg", "oz", "lb")
    return named.base if weighed else mass_of_volume(named.base, min(85.0, other))


def _with_so_much(there: Pan, other: float, amount_g: float) -> Line:
    made = brix_of([(there.mass_g, there.brix), (amount_g, other)])
    facts: dict[str, Fact] = {
        "brix": brix(made),
        "other": brix(other),
        "amount": grams(amount_g),
        "made": grams(there.mass_g + amount_g),
    }
    return Line(id="reckoned.blend_makes", rank="answer", facts=facts)


def _as_good_as_the_worse(there: Pan) -> Answer:
    """The blend's own caution waits where the Brix it starts from is in doubt."""
    source = named_source(there)
    doubtful = any(line.rank == "caution" for line in source)
    return (
        *source,
        Line(id="reckoned.blend_caution", rank="detail" if doubtful else "caution"),
        Line(id="reckoned.blend_count", rank="detail"),
    )
