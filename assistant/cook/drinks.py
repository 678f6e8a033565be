""" "How strong a drink?": the syrup of this batch in a glass."""

from assistant.base.errors import OutOfRange
from assistant.calc.serve import Glass, dilute, dilute_by_parts, energy
from assistant.cook.batch import Batch
from assistant.cook.keep_answers import barred_lines
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import syrup
from assistant.facts.events import Ask

Answer = tuple[Line, ...]
USUAL_BRIX = 10.0
"""A drink is usually mixed to about 8 to 12 Brix (common practice, no source)."""
GLASS_ML = 200.0
THINNEST = 20.0
"""Below this Brix it is no syrup to be mixed with water (this project's own line)."""


def drink(batch: Batch, event: Ask) -> Answer:
    """Parts of water, and what is in a glass; with the parts given, how sweet that is."""
    if batch.barred:
        return barred_lines(batch)
    stock = syrup(batch)
    if stock is None:
        return (Line(id="fruit_first", rank="answer"),)
    brix = min(85.0, stock.brix.likely)
    if brix < THINNEST:
        return (Line(id="no_drink", rank="answer"),)
    try:
        glass = _glass(brix, event.value)
    except OutOfRange:
        return (Line(id="no_such_drink", rank="answer"),)
    return (_mixed(glass), _contains(glass))


def _glass(brix: float, parts: float | None) -> Glass:
    if parts is None:
        return dilute(brix, USUAL_BRIX, GLASS_ML)
    return dilute_by_parts(brix, parts, GLASS_ML)


def _mixed(glass: Glass) -> Line:
    facts: dict[str, Fact] = {
        "parts": f"{glass.water_parts:.2g}",
        "syrup": Quantity(value=glass.syrup_ml, unit="ml"),
        "glass": Quantity(value=glass.glass_ml, unit="ml"),
        "brix": Quantity(value=glass.brix, unit="Brix"),
    }
    return Line(id="drink", rank="answer", facts=facts)


def _contains(glass: Glass) -> Line:
    facts: dict[str, Fact] = {
        "sugar": Quantity(value=glass.sugar_g, unit="g"),
        "kcal": round(energy(glass.sugar_g).kcal),
    }
    return Line(id="drink_sugar", rank="answer", facts=facts)
