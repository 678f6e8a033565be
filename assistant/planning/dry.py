"""A dry batch: a recipe walked to its last bottle on paper, everything as it plans."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from assistant.calc.watched import longest_gap
from assistant.cook import Batch, Recipe, begin, step
from assistant.cook.kinds import AnyStage, Bottling, Cool, Heat, Hold, Measure, Option, Reduce, Rest
from assistant.cook.ph_forecast import forecast_ph
from assistant.cook.stock import HALF_LITRE, bottles_for, made_up_volume, start_mass, syrup
from assistant.facts.events import (
    RULES,
    AnyEvent,
    Begin,
    Bottle,
    Choose,
    No,
    Onward,
    Reading,
    Yes,
)
from assistant.planning.trial import ON_PAPER, base_bounds, base_unit, check_fruit

A_KILO = 1000.0
"""What a dry batch starts from, in the recipe's own unit. [g or ml]"""
_STEP = timedelta(seconds=30)
_MOST_STEPS = 60
"""Tries at one stage before it is given up as one that can't be passed."""


def dry_batch(recipe: Recipe, fruit: str | None = None) -> Batch:
    """The batch that a kilo or a litre makes, every amount as planned and every wait kept.

    The pH is the forecast's, or the middle of the recipe's aim; it is no reading. Options are
    declined. Returns the batch where it got to. WrongUse and LimitStopped as `trial_batch`.
    """
    fruit = fruit or (recipe.fruits[0] if recipe.fruits else None)
    check_fruit(recipe, fruit)
    body = recipe.model_dump(mode="json")
    batch, _ = begin(Begin(at=ON_PAPER, batch="dry", recipe=body, rules=RULES))
    at = ON_PAPER
    if fruit is not None:
        batch, _ = step(batch, Choose(at=at, option="fruit", value=fruit))
    tries: dict[int, int] = {}
    while batch.stage is not None and tries.get(batch.stage_index, 0) < _MOST_STEPS:
        tries[batch.stage_index] = tries.get(batch.stage_index, 0) + 1
        at += _wait(batch.stage)
        for event in _goes_as_planned(batch, batch.stage, at):
            batch, _ = step(batch, event)
    return batch


def _wait(stage: AnyStage) -> timedelta:
    """As long as a rest takes; in a hold no longer than a cook may look away."""
    if isinstance(stage, Rest):
        return timedelta(minutes=stage.minutes)
    return timedelta(seconds=longest_gap(stage.seconds)) if isinstance(stage, Hold) else _STEP


def _goes_as_planned(batch: Batch, stage: AnyStage, at: datetime) -> Iterator[AnyEvent]:
    if batch.held is not None:
        yield Yes(at=at)
        return
    match stage:
        case Measure():
            yield from _measured(batch, stage, at)
        case Heat() | Hold():
            yield Reading(at=at, what="temperature", value=stage.target_c + 1, unit="degC")
        case Cool():
            yield Reading(at=at, what="temperature", value=stage.below_c - 1, unit="degC")
        case Option():
            yield No(at=at)
        case Reduce():
            value = stage.to_share * start_mass(batch)
            yield Reading(at=at, what="yield", value=value, unit="g")
        case Bottling():
            stock = syrup(batch)
            yield Bottle(at=at, count=bottles_for(stock) if stock else 1, size_ml=HALF_LITRE)
        case _:
            yield Onward(at=at)


def _measured(batch: Batch, stage: Measure, at: datetime) -> Iterator[AnyEvent]:
    recipe = batch.recipe
    match stage.reading:
        case "ph":
            yield Reading(at=at, what="ph", value=_likely_ph(batch), unit="pH")
            yield Choose(at=at, option="ph_by", value="meter")
        case "brix":
            stock = syrup(batch)
            value = stock.brix.likely if stock else recipe.targets.brix
            yield Reading(at=at, what="brix", value=round(value, 1), unit="Brix")
        case reading if reading == recipe.base and batch.start is None:
            low, high = base_bounds(recipe)
            value = min(high, max(low, A_KILO))
            yield Reading(at=at, what=recipe.base, value=value, unit=base_unit(recipe))
        case "juice":
            yield Reading(at=at, what="juice", value=made_up_volume(batch), unit="ml")
        case _:
            yield Onward(at=at)


def _likely_ph(batch: Batch) -> float:
    """Where it is expected, else in the middle of the aim; to a tenth, as a meter tells."""
    expected, targets = forecast_ph(batch), batch.recipe.targets
    value = (targets.ph_low + targets.ph_high) / 2 if expected is None else expected.likely
    return round(max(1.5, value), 1)
