"""Brix that is wished for, and Brix that would come of sugar, water or boiling."""

from assistant.base.errors import OutOfRange
from assistant.base.units import dimension
from assistant.calc.density import volume
from assistant.calc.mash import Syrup
from assistant.calc.measures import spoon_to_g
from assistant.calc.sugar import sugar_for_brix, water_for_brix, water_to_boil_off
from assistant.calc.water import will_crystallise
from assistant.cook.batch import Batch
from assistant.cook.drinks import THINNEST
from assistant.cook.reckoned.pan import (
    Answer,
    Pan,
    asks_for_brix,
    brix,
    closed_to_change,
    grams,
    millilitres,
    named_source,
    no_amount,
    no_pan,
    pan,
)
from assistant.cook.reply import Fact, Line
from assistant.facts.events import Ask

MOST_BRIX = 75.0
"""No syrup is brought past this: sugar falls out of it as it cools (this project's own line)."""
SAME_BRIX = 0.5
"""So near a hand refractometer sees no difference (common practice, no source). [Brix]"""
_FRIDGE_C = 4.0


def to_brix(batch: Batch, event: Ask) -> Answer:
    """The sugar or the water that brings what is in the pan to a Brix."""
    target = _wanted(batch, event)
    refused = _impossible(target) or _unsweetened(batch) or closed_to_change(batch)
    there = pan(batch)
    if refused or target is None:
        return refused
    if there is None:
        return no_pan(batch)
    if there.spirit and asks_for_brix(there):
        return asks_for_brix(there)
    if _just_said(batch, event, target):
        return named_source(there)
    return (*_brings(there, target), *named_source(there), *_crystals(target))


def _wanted(batch: Batch, event: Ask) -> float | None:
    """The Brix that is named, or the one in the pan moved by so many."""
    up, down, there = event.number("up"), event.number("down"), pan(batch)
    if (up is None and down is None) or there is None:
        return event.number("target")
    return round(there.brix + (up or 0.0) - (down or 0.0), 1)


def _just_said(batch: Batch, event: Ask, target: float) -> bool:
    """Whether the reading in the same breath was answered with what brings it to just that."""
    read = batch.last("brix")
    told = (line.id for line in batch.last_reply.lines)
    mended = any(line in ("brix_low", "brix_high", "brix_near") for line in told)
    return (
        read is not None and read.at == event.at and mended and target == batch.recipe.targets.brix
    )


def _brings(there: Pan, target: float) -> Answer:
    if abs(target - there.brix) < SAME_BRIX and there.known == "since":
        return ()
    if abs(target - there.brix) < SAME_BRIX:
        facts: dict[str, Fact] = {"brix": brix(there.brix)}
        there_now = Line(id="reckoned.brix_there", rank="answer", facts=facts)
        return asks_for_brix(there) or (there_now,)
    return _sugar(there, target) if target > there.brix else _water(there, target)


def _sugar(there: Pan, target: float) -> Answer:
    need = sugar_for_brix(there.mass_g, there.brix, target)
    facts: dict[str, Fact] = {
        "target": brix(target),
        "brix": brix(there.brix),
        "sugar": grams(need),
        "volume": _room(there.mass_g + need, target),
    }
    makes = Line(id="reckoned.makes", rank="detail", facts=facts)
    if there.known == "reckoned":
        return (Line(id="reckoned.needs_brix_sugar", rank="question", facts=facts), makes)
    return (Line(id="reckoned.sugar_to", rank="do", facts=facts), makes)


def _water(there: Pan, target: float) -> Answer:
    need = water_for_brix(there.mass_g, there.brix, target)
    facts: dict[str, Fact] = {
        "target": brix(target),
        "brix": brix(there.brix),
        "water": millilitres(need),
        "volume": _room(there.mass_g + need, target),
    }
    makes = Line(id="reckoned.makes", rank="detail", facts=facts)
    thinner = Line(id="reckoned.thinner", rank="caution")
    if there.known == "reckoned":
        return (
            Line(id="reckoned.needs_brix_water", rank="question", facts=facts),
            thinner.model_copy(update={"rank": "detail"}),
            makes,
        )
    return (Line(id="reckoned.water_to", rank="do", facts=facts), thinner, makes)


def brix_now(batch: Batch, _event: Ask) -> Answer:
    """What was read of what is in the pan, or what it comes to since."""
    there = pan(batch)
    if there is None:
        return no_pan(batch)
    if there.known == "read":
        facts: dict[str, Fact] = {"brix": brix(there.brix)}
        return (Line(id="reckoned.brix_is", rank="answer", facts=facts),)
    return asks_for_brix(there) or named_source(there)


def boiled_to(batch: Batch, event: Ask) -> Answer:
    """The water that must boil away to come to a Brix."""
    target = event.number("target")
    refused = _impossible(target) or _unsweetened(batch) or closed_to_change(batch)
    there = pan(batch)
    if refused or target is None:
        return refused
    if there is None:
        return no_pan(batch)
    needs = asks_for_brix(there)
    if needs:
        return needs
    if target <= there.brix + SAME_BRIX:
        facts: dict[str, Fact] = {"brix": brix(there.brix)}
        return (Line(id="reckoned.boiled_enough", rank="answer", facts=facts),)
    lost = water_to_boil_off(there.mass_g, there.brix, target)
    facts = {"target": brix(target), "lost": grams(lost), "left": grams(there.mass_g - lost)}
    told = Line(id="reckoned.boil_to", rank="do", facts=facts)
    burns = Line(id="reckoned.boiling_burns", rank="detail")
    return (told, *named_source(there), burns, *_crystals(target))


def boiled_off(batch: Batch, event: Ask) -> Answer:
    """What is left, and how sweet, after so much water has boiled away."""
    lost, there = event.number("lost"), pan(batch)
    refused = no_amount(lost) or closed_to_change(batch)
    if refused or lost is None:
        return refused
    if there is None:
        return no_pan(batch)
    left = there.mass_g - lost
    made = there.brix * there.mass_g / left if left > 0 else 100.0
    if made > MOST_BRIX:
        return (Line(id="reckoned.boiled_too_far", rank="answer", facts={"most": brix(MOST_BRIX)}),)
    facts: dict[str, Fact] = {"brix": brix(made), "left": grams(left), "volume": _room(left, made)}
    told = Line(id="reckoned.boil_off", rank="answer", facts=facts)
    burns = Line(id="reckoned.boiling_burns", rank="detail")
    return (told, *_as_known(there), burns, *_crystals(made))


def _sugar_g(event: Ask) -> float | None:
    """Sugar that is named, by weight or by the spoon or cup; None for another volume. [g]"""
    named = next((one for one in event.given if one.name == "added"), None)
    if named is None or dimension(named.unit) == "mass":
        return event.number("added")
    if named.unit not in ("tsp", "tbsp", "cup") or named.value <= 0:
        return None
    return spoon_to_g("sugar", named.unit, named.value).likely


def with_sugar(batch: Batch, event: Ask) -> Answer:
    """The Brix with so much more sugar in it."""
    added, there = _sugar_g(event), pan(batch)
    refused = no_amount(added) or closed_to_change(batch)
    if refused or added is None:
        return refused
    if there is None:
        return no_pan(batch)
    made = Syrup(there.mass_g, there.brix).sweetened(added)
    if made.brix > MOST_BRIX:
        return (Line(id="reckoned.too_sweet", rank="answer", facts={"most": brix(MOST_BRIX)}),)
    facts = _comes_to(made.mass_g, made.brix)
    told = Line(id="reckoned.comes_to", rank="answer", facts=facts)
    return (told, *_as_known(there), *_crystals(made.brix))


def with_water(batch: Batch, event: Ask) -> Answer:
    """The Brix with so much more water in it."""
    added, there = event.number("added"), pan(batch)
    refused = no_amount(added) or closed_to_change(batch)
    if refused or added is None:
        return refused
    if there is None:
        return no_pan(batch)
    mass = there.mass_g + added
    facts = _comes_to(mass, there.brix * there.mass_g / mass)
    told = Line(id="reckoned.comes_to", rank="answer", facts=facts)
    return (told, Line(id="reckoned.thinner", rank="caution"), *_as_known(there))


def _as_known(there: Pan) -> Answer:
    """Where the Brix it starts from comes from; for a "what if" a reckoned one will do, named."""
    if there.known != "reckoned":
        return named_source(there)
    return (Line(id="reckoned.by_reckoning", rank="answer", facts={"brix": brix(there.brix)}),)


def _comes_to(mass_g: float, made: float) -> dict[str, Fact]:
    return {"brix": brix(made), "volume": _room(mass_g, made)}


def _room(mass_g: float, at_brix: float) -> Fact:
    return millilitres(volume(mass_g, min(85.0, at_brix)))


def _impossible(target: float | None) -> Answer:
    """Why a Brix can't be aimed at; () where it can."""
    if target is None:
        return (Line(id="reckoned.which_brix", rank="question"),)
    facts: dict[str, Fact] = {"target": brix(target), "most": brix(MOST_BRIX)}
    if not 0 < target < 100:
        return (Line(id="reckoned.no_such_brix", rank="question", facts=facts),)
    if target > MOST_BRIX:
        return (Line(id="reckoned.too_sweet", rank="answer", facts=facts),)
    if target < THINNEST:
        return (Line(id="reckoned.a_drink", rank="answer", facts=facts),)
    return ()


def _unsweetened(batch: Batch) -> Answer:
    """A recipe without sweetness, as an acid solution, has no Brix to come to."""
    return () if batch.recipe.targets.brix else (Line(id="not_in_recipe", rank="answer"),)


def _crystals(at_brix: float) -> Answer:
    """That plain sugar may come out of it in the fridge."""
    try:
        comes = will_crystallise(min(85.0, at_brix), _FRIDGE_C)
    except OutOfRange:
        return ()
    return (Line(id="reckoned.crystals", rank="detail"),) if comes else ()
