"""What may become of it in the bottle: crystals, free water, alcohol from a spirit."""

from assistant.base.errors import OutOfRange
from assistant.calc.alcohol import spirit_mixed
from assistant.calc.preserve_kitchen import SPIRIT_KEEPS_ABV
from assistant.calc.water import activity_sucrose, saturation
from assistant.cook.batch import Batch
from assistant.cook.reckoned.pan import (
    Answer,
    asks_for_brix,
    brix,
    closed_to_change,
    millilitres,
    named_source,
    no_amount,
    no_pan,
    pan,
)
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import alcohol_by_volume
from assistant.facts.events import Ask

FRIDGE_C = 4.0


def crystals(batch: Batch, event: Ask) -> Answer:
    """Whether plain sugar may come out of it at a temperature, the fridge's where none was said."""
    temp, there = event.number("temp"), pan(batch)
    if there is None:
        return no_pan(batch)
    if asks_for_brix(there):
        return asks_for_brix(there)
    at = FRIDGE_C if temp is None else temp
    try:
        over = saturation(min(85.0, there.brix), max(0.0, at))
    except OutOfRange:
        return (Line(id="reckoned.no_such_heat", rank="question"),)
    facts: dict[str, Fact] = {"brix": brix(there.brix), "temp": _degrees(at)}
    line = "reckoned.crystals_come" if over > 1.0 else "reckoned.crystals_stay"
    return (Line(id=line, rank="answer", facts=facts), *named_source(there))


def water_activity(batch: Batch, _event: Ask) -> Answer:
    """How free the water in it is, as of sugar alone."""
    there = pan(batch)
    if there is None:
        return no_pan(batch)
    if asks_for_brix(there):
        return asks_for_brix(there)
    try:
        free = activity_sucrose(there.brix)
    except OutOfRange:
        return (Line(id="reckoned.no_amount", rank="question"),)
    facts: dict[str, Fact] = {"free": f"{free:.2f}", "brix": brix(there.brix)}
    return (
        Line(id="reckoned.water_activity", rank="answer", facts=facts),
        *named_source(there),
    )


def with_spirit(batch: Batch, event: Ask) -> Answer:
    """How strong it gets with a spirit in it, and whether that keeps it."""
    spirit, there = event.number("spirit"), pan(batch)
    strength = next((one.value for one in event.given if one.name == "strength"), None)
    refused = no_amount(spirit) or closed_to_change(batch)
    if refused or spirit is None:
        return refused
    if there is None:
        return no_pan(batch)
    if strength is None:
        return (Line(id="reckoned.which_strength", rank="question"),)
    if strength <= 0:
        return (Line(id="reckoned.no_such_spirit", rank="question"),)
    try:
        mixed = spirit_mixed(there.volume_ml, min(85.0, there.brix), spirit, strength)
    except OutOfRange:
        return (Line(id="reckoned.no_such_spirit", rank="question"),)
    own = alcohol_by_volume(batch) * there.volume_ml
    abv = mixed.abv.likely + 100 * own / mixed.volume_ml.likely
    facts: dict[str, Fact] = {
        "abv": f"{abv:.1f}",
        "volume": millilitres(mixed.volume_ml.likely),
        "keeps": f"{SPIRIT_KEEPS_ABV:g}",
    }
    line = "reckoned.spirit_strong" if abv >= SPIRIT_KEEPS_ABV else "reckoned.spirit_weak"
    return (
        Line(id=line, rank="answer", facts=facts),
        Line(id="reckoned.spirit_fire", rank="caution"),
        Line(id="reckoned.spirit_label", rank="detail"),
    )


def _degrees(value: float) -> Quantity:
    return Quantity(value=value, unit="degC", exact=True)
