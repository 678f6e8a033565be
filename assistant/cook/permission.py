""" "May I use frozen fruit?": yes, no, or at what price, and why."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from assistant.cook.amounts import amount
from assistant.cook.batch import Batch
from assistant.cook.holding import hold_stage
from assistant.cook.keep_answers import keep_lines
from assistant.cook.keeping import keeping
from assistant.cook.kinds import Option
from assistant.cook.reply import Line, Quantity
from assistant.cook.stages import announce, facts
from assistant.facts.events import Place
from assistant.facts.stuff import STUFF

Answer = tuple[Line, ...]
_PLACES: dict[str, Place] = {
    "fridge": "fridge",
    "freezer": "freezer",
    "frozen": "freezer",
    "cupboard": "cupboard",
    "shelf": "cupboard",
}


def may_i(batch: Batch, about: str | None, at: datetime) -> Answer:
    """The answer to "may I ...", by what is to be done; the stage's reason where it is skipping."""
    deed = about or "skip"
    if deed in _ANSWERS:
        return _ANSWERS[deed](batch, at)
    how, _, matter = deed.partition("_")
    if how == "keep":
        return keep_lines(batch, at, _PLACES.get(matter))
    return _matter(batch, how, matter, at)


def _matter(batch: Batch, how: str, matter: str, at: datetime) -> Answer:
    """More or less of something, with it or without."""
    if matter == "sugar":
        return _sugar(how)
    if matter == "sorbate":
        return _sorbate(batch, how)
    if matter in STUFF and STUFF[matter].acid:
        line = "may_less_acid" if how in ("less", "without") else "may_more_acid"
        return (Line(id=line, rank="answer"), Line(id="may_measure_ph", rank="caution"))
    if matter in ("water", "juice"):
        return (Line(id="may_water", rank="answer"),)
    if matter == "glycerin":
        return (Line(id="may_glycerin", rank="answer"),)
    return _skip(batch, at)


def _sugar(how: str) -> Answer:
    if how == "without":
        return (Line(id="may_no_sugar", rank="limit"),)
    if how == "less":
        return (Line(id="may_less_sugar", rank="answer"),)
    return (Line(id="may_more_sugar", rank="answer"),)


def _sorbate(batch: Batch, how: str) -> Answer:
    planned = amount(batch, "sorbate") if "sorbate" in batch.recipe.amounts else None
    if how == "more" and planned is not None:
        facts_ = {"amount": planned.likely()}
        return (Line(id="may_no_more_sorbate", rank="limit", facts=facts_),)
    if how in ("less", "without"):
        return (Line(id="may_no_sorbate", rank="answer"),)
    if planned is None:
        return (Line(id="not_in_recipe", rank="answer"),)
    return (Line(id="may_sorbate", rank="answer"),)


def _frozen(batch: Batch, _at: datetime) -> Answer:
    if batch.recipe.base != "fruit":
        return (Line(id="may_no_fruit", rank="answer"),)
    return (Line(id="may_frozen", rank="answer"), Line(id="may_thaw", rank="answer"))


def _skip_hold(batch: Batch, at: datetime) -> Answer:
    """Without the hold: the days that are left of the keeping."""
    hold = hold_stage(batch)
    if hold is None:
        return (Line(id="may_no_hold", rank="answer"),)
    cold = replace(batch, taken=tuple(t for t in batch.taken if t.what != "temperature"))
    days = keeping(cold).days
    if days is None:
        return (Line(id="may_not_skip_hold", rank="limit"),)
    left = Quantity(value=days, unit="day")
    line = Line(id="may_skip_hold", rank="caution", facts={"days": left})
    return (line, *_skip(batch, at)[:1])


def _boil(batch: Batch, _at: datetime) -> Answer:
    hold = hold_stage(batch)
    if hold is None:
        return (Line(id="may_boil_freely", rank="answer"),)
    ceiling = Quantity(value=hold.ceiling_c, unit="degC", exact=True)
    return (Line(id="may_boil", rank="answer", facts={"ceiling": ceiling}),)


def _honey(_batch: Batch, _at: datetime) -> Answer:
    return (Line(id="may_honey", rank="answer"), Line(id="may_honey_infants", rank="caution"))


def _double(batch: Batch, _at: datetime) -> Answer:
    if batch.start is None:
        return (Line(id="may_double", rank="answer"),)
    return (Line(id="may_double_begun", rank="answer"),)


def _skip(batch: Batch, at: datetime) -> Answer:
    """Skipping is possible at a price: say which stage waits, and why it is there."""
    stage = batch.stage
    if stage is None or batch.spoiling or isinstance(stage, Option):
        return announce(batch, at)
    said = facts(batch, stage.why, stage, at)
    why = Line(id="why", rank="answer", text=stage.why, facts=said)
    return (Line(id="may_skip", rank="answer"), why)


def _says(line: Line, *more: Line) -> Callable[[Batch, datetime], Answer]:
    return lambda _batch, _at: (line, *more)


_ANSWERS: dict[str, Callable[[Batch, datetime], Answer]] = {
    "frozen_fruit": _frozen,
    "skip": _skip,
    "skip_hold": _skip_hold,
    "boil": _boil,
    "honey": _honey,
    "lemon_juice": _says(
        Line(id="may_lemon", rank="answer"), Line(id="may_measure_ph", rank="caution")
    ),
    "double": _double,
    "reuse_bottles": _says(
        Line(id="may_reuse", rank="answer"), Line(id="may_reuse_caps", rank="caution")
    ),
    "plastic_bottles": _says(
        Line(id="may_plastic", rank="answer"), Line(id="may_plastic_hot", rank="caution")
    ),
}
