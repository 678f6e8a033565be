"""What an instrument's number is worth; nothing of it counts as read."""

from assistant.base.errors import OutOfRange
from assistant.calc.refraction import at_20
from assistant.calc.sugar import brix_from_specific_gravity
from assistant.cook.batch import Batch
from assistant.cook.reckoned.pan import Answer, brix
from assistant.cook.reply import Fact, Line
from assistant.facts.events import Ask


def refractometer(_batch: Batch, event: Ask) -> Answer:
    """A reading of a drop that was warmer or colder than 20 degrees."""
    reading, temp = event.number("reading"), event.number("temp")
    if reading is None or temp is None:
        return (Line(id="reckoned.no_amount", rank="question"),)
    try:
        found = at_20(reading, temp)
    except OutOfRange:
        return (Line(id="reckoned.cool_the_drop", rank="answer"),)
    facts: dict[str, Fact] = {"reading": brix(reading), "brix": brix(found.likely)}
    return (Line(id="reckoned.refractometer", rank="answer", facts=facts),)


def hydrometer(_batch: Batch, event: Ask) -> Answer:
    """A specific gravity as Brix."""
    gravity = event.number("gravity") or 0.0
    gravity = gravity / 1000 if gravity > 900 else gravity
    try:
        found = brix_from_specific_gravity(gravity)
    except OutOfRange:
        return (Line(id="reckoned.no_such_gravity", rank="question"),)
    return (Line(id="reckoned.hydrometer", rank="answer", facts={"brix": brix(found)}),)
