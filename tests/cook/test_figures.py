"""The figures that answer cards name, against the batch they are taken from."""

from datetime import UTC, datetime, timedelta

import pytest

from assistant.cook import Batch, begin, step
from assistant.cook.conditions import CONDITIONS, holds
from assistant.cook.figures import FIGURES, figure_of
from assistant.cook.reply import Quantity
from assistant.facts import events as ev
from assistant.recipebook.files import load_recipe, recipe_names

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


def _batch(*events: ev.AnyEvent, recipe: str = "berry-syrup") -> Batch:
    body = load_recipe(recipe).model_dump(mode="json")
    batch, _ = begin(ev.Begin(at=AT, batch="b", recipe=body))
    for event in events:
        batch, _ = step(batch, event)
    return batch


def _reads(what: ev.What, value: float, unit: str, after_s: float = 0) -> ev.Reading:
    at = AT + timedelta(seconds=after_s)
    return ev.Reading(at=at, what=what, value=value, unit=unit)  # type: ignore[arg-type]


WEIGHED = (
    ev.Choose(at=AT, option="fruit", value="blackcurrant"),
    _reads("fruit", 2.4, "kg"),
)


def _value(name: str, batch: Batch) -> float:
    found = figure_of(name, batch, AT)
    assert isinstance(found, Quantity)
    return found.value


def test_lemon_juice_carries_the_acid_that_is_planned() -> None:
    """48 g of citric acid a litre: Penniston et al., J Endourol 22 (2008) 567, from memory."""
    batch = _batch(*WEIGHED)
    assert _value("lemon_juice", batch) == pytest.approx(1000 * _value("citric", batch) / 48)


def test_the_sugar_altogether_is_the_first_and_the_main_one() -> None:
    batch = _batch(*WEIGHED)
    both = _value("first_sugar", batch) + _value("main_sugar", batch)
    assert _value("sugar_altogether", batch) == pytest.approx(both)


def test_degrees_to_go_end_at_the_target() -> None:
    done = ev.Onward(at=AT)
    warming = _batch(*WEIGHED, done, done, _reads("temperature", 62, "degC", 60))
    assert _value("degrees_to_go", warming) == 13
    there = _batch(*WEIGHED, done, done, _reads("temperature", 76, "degC", 60))
    assert figure_of("degrees_to_go", there, AT) is None


def test_a_litre_of_water_takes_what_a_glass_takes() -> None:
    batch = _batch(*WEIGHED)
    glass, syrup = _value("glass", batch), _value("glass_syrup", batch)
    parts = 1000 / _value("jug_syrup", batch)
    assert parts == pytest.approx((glass - syrup) / syrup, rel=0.02)
    assert figure_of("bottle_glasses", batch, AT) == int(500 / syrup)


@pytest.mark.parametrize("recipe", recipe_names())
def test_no_figure_and_no_condition_stumbles_over_a_fresh_batch(recipe: str) -> None:
    batch = _batch(recipe=recipe)
    for name in FIGURES:
        figure_of(name, batch, AT)
    for name in CONDITIONS:
        assert holds(f"!{name}", batch, AT) is not holds(name, batch, AT)


def _cooling(*degrees: float) -> Batch:
    """Held, strained and measured, then read as it cools, a minute apart."""
    batch = _batch(*WEIGHED)
    at = 0.0
    while batch.stage is not None and batch.stage.kind != "cool":
        at += 30
        assert at < 7200, f"stuck at {batch.stage.kind}"
        batch = _passed(batch, at)
    for each in degrees:
        at += 60
        batch, _ = step(batch, _reads("temperature", each, "degC", at))
    return batch


def _passed(batch: Batch, at: float) -> Batch:
    stage = batch.stage
    assert stage is not None
    given: dict[str, ev.AnyEvent] = {
        "heat": _reads("temperature", 76, "degC", at),
        "hold": _reads("temperature", 76, "degC", at),
        "measure": _reads("juice", 2.9, "l", at),
    }
    return step(batch, given.get(stage.kind, ev.Onward(at=AT + timedelta(seconds=at))))[0]


def test_degrees_to_cool_end_where_the_sugar_may_go_in() -> None:
    warm = _cooling(61)
    assert _value("degrees_to_cool", warm) == 61 - _value("cool_to", warm)
    assert figure_of("degrees_to_cool", _batch(*WEIGHED), AT) is None


def test_the_time_to_cool_wants_two_readings_of_the_cooling() -> None:
    assert figure_of("time_to_cool", _cooling(61), AT) is None
    assert _value("time_to_cool", _cooling(64, 61, 58)) >= 60


def test_sugar_in_cups() -> None:
    """200 g a cup: USDA National Nutrient Database SR26."""
    batch = _batch(*WEIGHED)
    cups = figure_of("first_sugar_cups", batch, AT)
    assert float(str(cups)) == pytest.approx(_value("first_sugar", batch) / 200, abs=0.05)
    water = _batch(recipe="nut-syrup")
    assert figure_of("first_sugar_cups", water, AT) is None


def test_the_ph_is_being_measured_at_its_stage_only() -> None:
    batch = _batch(recipe="citric-solution")
    assert not holds("measuring_ph", batch, AT)
    batch, _ = step(batch, _reads("water", 1.0, "l"))
    batch, _ = step(batch, ev.Onward(at=AT))
    assert holds("measuring_ph", batch, AT)
