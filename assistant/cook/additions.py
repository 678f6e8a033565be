"""Additions the cook names with an amount, at their stage or at any other time."""

from typing import Literal

from assistant.calc.measures import spoon_to_g
from assistant.calc.preserve import sorbate_slip
from assistant.calc.spread import Spread
from assistant.cook.amounts import amount, quantity
from assistant.cook.batch import Added, Batch
from assistant.cook.changes import Step, changed, onward, stay
from assistant.cook.judging import limit_line, read_back, whose_measure
from assistant.cook.kinds import Add, Option
from assistant.cook.reply import Line, Quantity, Reply
from assistant.cook.stages import announce
from assistant.cook.stock import syrup
from assistant.facts.events import Reading
from assistant.facts.stuff import STUFF, read_as
from assistant.limits import tripped

TEASPOON_ML = 5.0
"""NIST, Cooking Measurement Equivalencies."""
FAR_OFF = 0.25
"""An amount this share away from the plan is said out loud, in case it was a slip."""


def take_ingredient(batch: Batch, event: Reading) -> Step:
    """An amount that went in: it counts as said, and far from the plan it is remarked upon."""
    name = _amount_name(batch, event.what)
    if name is None or batch.start is None:
        return stay(batch, Line(id="not_in_recipe", rank="answer"), *announce(batch, event.at))
    if event.what == "sorbate":
        return _take_sorbate(batch, event)
    if event.dimension == "dose":
        return stay(batch, Line(id="dose_by_weight", rank="question"))
    added = _added(batch, name, event)
    lines = (*_spoon_caution(event), *whose_measure(event), *_off_plan(batch, name, added))
    return _put_in(batch, added, event, *lines)


def added_as(batch: Batch, event: Reading) -> Added | None:
    """What a cook's number for an ingredient would be put down as; None where it has no place."""
    name = _amount_name(batch, event.what)
    return None if name is None else _added(batch, name, event)


def _amount_name(batch: Batch, what: str) -> str | None:
    """The amount meant: the one this stage asks for, else the latest the batch has reached."""
    stage = batch.stage
    if isinstance(stage, Add) and read_as(stage.amount) == what:
        return stage.amount
    names = [n for n in batch.recipe.added if read_as(n) == what]
    added = [n for n in names if batch.addition(n) is not None]
    return added[-1] if added else next(iter(names), None)


def _added(batch: Batch, name: str, event: Reading) -> Added:
    planned = amount(batch, name)
    wanted = planned.unit if planned else "g"
    unit: Literal["g", "ml"] = "ml" if wanted == "ml" else "g"
    return Added(name, _amount_in(event, unit).likely, unit, event.at, measured=True)


def _amount_in(event: Reading, unit: Literal["g", "ml"]) -> Spread:
    """What was said, in the unit of the plan; powder by the spoon has a spread."""
    if event.dimension == ("mass" if unit == "g" else "volume"):
        return Spread.exactly(event.base)
    stuff = STUFF[event.what]
    if unit == "ml":
        return Spread.exactly(event.base / (stuff.density or 1.0))
    if stuff.density is not None:
        return Spread.exactly(event.base * stuff.density)
    return spoon_to_g(stuff.spoon or stuff.words, "tsp", event.base / TEASPOON_ML)


def _spoon_caution(event: Reading) -> tuple[Line, ...]:
    """A spoon of acid or preservative is a guess, and the cook hears how wide."""
    if event.dimension != "volume" or STUFF[event.what].density is not None:
        return ()
    grams = quantity(_amount_in(event, "g"), "g")
    return (Line(id="by_spoon", rank="caution", facts={"grams": grams}),)


def _put_in(batch: Batch, added: Added, event: Reading, *lines: Line) -> Step:
    after = batch.with_added(added)
    stage = batch.stage
    if isinstance(stage, Add) and stage.amount == added.name:
        return onward(batch, after, event.at, read_back(event), *lines)
    noted = Line(id="added_too", rank="answer")
    return changed(batch, after), Reply(lines=(read_back(event), *lines, noted))


def _off_plan(batch: Batch, name: str, added: Added) -> tuple[Line, ...]:
    planned = amount(batch, name)
    stage = batch.stage
    if planned is None or not (isinstance(stage, Add) and stage.amount == name):
        return ()
    if abs(added.amount - planned.value) <= FAR_OFF * planned.value:
        return ()
    return (Line(id="off_plan", rank="caution", facts={"planned": planned}),)


def _take_sorbate(batch: Batch, event: Reading) -> Step:
    """A dose or a weight of sorbate, held against working doses and ceilings before it counts.

    Of a spoon the heavier end counts, since a ceiling must not be passed.
    """
    stock = syrup(batch)
    if stock is None:
        return stay(batch, Line(id="not_in_recipe", rank="answer"))
    litres = stock.volume_ml.likely / 1000
    dose = event.base if event.unit == "g/l" else _amount_in(event, "g").high / litres
    refused = _refused_dose(batch, dose, event)
    if refused is not None:
        return refused
    chosen = batch.with_choice("sorbate", True)
    added = Added("sorbate", dose * litres, "g", event.at, measured=True)
    lines = (*_spoon_caution(event), *_dose_cautions(batch, dose))
    if isinstance(batch.stage, Option) and batch.stage.option == "sorbate":
        grams = Quantity(value=dose * litres, unit="g")
        weigh = Line(id="sorbate_weigh", rank="do", facts={"grams": grams})
        after = chosen.with_added(added)
        return changed(batch, after), Reply(lines=(read_back(event), *lines, weigh))
    return _put_in(chosen, added, event, *lines)


def _refused_dose(batch: Batch, dose: float, event: Reading) -> Step | None:
    """A slipped decimal or a dose past every ceiling is not taken."""
    if not 0 < dose <= 1000:
        return stay(batch, Line(id="sorbate_no_dose", rank="question"))
    slip = sorbate_slip(dose)
    said = Quantity(value=dose, unit="g/l", exact=event.unit == "g/l")
    if slip is not None and slip.kind in ("tenth", "hundredth", "tenfold", "hundredfold"):
        line = Line(id=f"sorbate_{slip.kind}", rank="caution", facts={"said": said})
        return stay(batch, line, *announce(batch, event.at))
    limit = tripped("sorbate", dose)
    if limit is not None and limit.effect == "stop":
        bound = Quantity(value=limit.bound, unit="g/l", exact=True)
        facts = {"value": said, "bound": bound}
        return stay(batch, Line(id="limit", rank="limit", text=limit.words, facts=facts))
    return None


def _dose_cautions(batch: Batch, dose: float) -> tuple[Line, ...]:
    limit = tripped("sorbate", dose)
    if limit is None:
        slip = sorbate_slip(dose)
        weak = slip is not None and slip.kind == "weak"
        return (Line(id="sorbate_weak", rank="caution"),) if weak else ()
    reading = Reading(at=batch.begun_at, what="sorbate", value=round(dose, 3), unit="g/l")
    return (limit_line(limit, reading),)
