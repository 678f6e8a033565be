"""A plan is the real batch, worked back: what it buys makes what was wanted."""

from datetime import UTC, datetime

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.base.errors import LimitStopped, OutOfRange, WrongUse
from assistant.cook import Recipe, fold
from assistant.cook.stock import main_sugar, syrup
from assistant.facts.events import Begin, Choose, Reading
from assistant.planning import Plan, Wish, plan
from assistant.recipebook.files import load_recipe, recipe_names

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


RECIPES = {name: load_recipe(name) for name in recipe_names()}


BERRY = RECIPES["berry-syrup"]


PLANNED = [name for name, recipe in RECIPES.items() if "darker_syrup" not in recipe.amounts]


def _folded_ml(recipe: Recipe, base: float, fruit: str | None) -> tuple[float, float]:
    """Syrup of a batch begun by hand with that much, least and most. [ml]"""
    unit = "g" if recipe.base == "fruit" else "ml"
    events = [Begin(at=AT, batch="b", recipe=recipe.model_dump(mode="json"))]
    events += [Choose(at=AT, option="fruit", value=fruit)] if fruit else []
    events += [Reading(at=AT, what=recipe.base, value=base, unit=unit)]  # type: ignore[list-item]
    made = syrup(fold(events)[0])
    assert made is not None
    return made.volume_ml.low, made.volume_ml.high


@settings(max_examples=40, deadline=None)
@given(
    name=st.sampled_from(PLANNED),
    bottles=st.integers(1, 60),
    size=st.floats(100, 1000),
    pick=st.integers(0, 20),
)
def test_the_fruit_of_a_plan_fills_its_bottles(
    name: str, bottles: int, size: float, pick: int
) -> None:
    recipe = RECIPES[name]
    fruits = [None, *recipe.fruits]
    fruit = fruits[pick % len(fruits)]
    try:
        found = plan(recipe, Wish("bottles", bottles, bottle_ml=size), fruit)
    except OutOfRange:
        assume(False)
    least, most = _folded_ml(recipe, found.base, found.batch.fruit)
    # A hundredth part of a bottle is the noise of arithmetic; 3 % sticks to pan and funnel.
    assert 0.97 * least / size >= bottles - 0.01
    assert found.bottles[0] >= bottles
    assert found.bottles_ready * size >= 0.97 * most - 1e-6
    assert found.syrup_ml.low == pytest.approx(0.97 * least)


@settings(max_examples=15, deadline=None)
@given(bottles=st.integers(2, 100), fruit=st.sampled_from(BERRY.fruits))
def test_no_more_is_bought_than_rounding_asks(bottles: int, fruit: str) -> None:
    found = plan(BERRY, Wish("bottles", bottles), fruit)
    assert found.needed.low <= found.needed.likely <= found.needed.high <= found.base
    # 500 g is the coarsest step that fruit is rounded up to.
    assert found.base - found.needed.high <= 500


@given(st.floats(0.2, 20), st.sampled_from(BERRY.fruits))
@settings(max_examples=15, deadline=None)
def test_a_list_covers_what_goes_in(kilos: float, fruit: str) -> None:
    found = plan(BERRY, Wish("fruit", kilos), fruit)
    sugar = next(item for item in found.items if item.name == "sugar")
    wanted = main_sugar(found.batch)
    assert wanted is not None
    # A quarter of the fruit goes in first, by the recipe.
    assert sugar.buy >= wanted.high + 250 * kilos - 1e-6
    assert all(item.buy >= item.needed.high for item in found.items)
    assert not {item.name for item in found.items} & {"water", "hot_water"}


def test_a_litre_of_plain_syrup_by_hand() -> None:
    # CRC Handbook, concentrative properties of sucrose at 20 degC: 50 % weighs 1.2295 g/ml, so that
    # a litre holds 614.75 g of sugar and as much water.
    found = plan(RECIPES["plain-syrup"], Wish("litres", 1.0))
    made_ml = found.syrup_ml.likely / 0.97
    sugar = next(item for item in found.items if item.name == "sugar")
    assert sugar.needed.likely == pytest.approx(0.61475 * made_ml, rel=2e-3)
    assert found.needed.likely / 0.9982 == pytest.approx(614.75 / 0.97, rel=5e-3)


def test_guests_by_hand() -> None:
    """30 guests, two glasses of 200 ml at 10 Brix: 60 times what a glass takes."""
    found = plan(BERRY, Wish("guests", 30), "raspberry")
    # Mass balance: 200 ml of 10 Brix at 1.0381 g/ml (ICUMSA SPS-4, 1994) hold 20.76 g of sugar; in
    # 62 Brix at 1.2983 g/ml (CRC Handbook, concentrative properties of sucrose) that is 25.8 ml.
    assert found.guests_glass is not None
    assert found.guests_glass.syrup_ml == pytest.approx(25.8, abs=0.1)
    assert found.syrup_ml.low >= 60 * 25.8 * 0.995


@pytest.mark.parametrize(
    ("wish", "scale"),
    [(Wish("litres", 6), 1.0), (Wish("bottles", 12), 1.0), (Wish("bottles", 24), 2.0)],
)
def test_twelve_half_litres_are_six_litres(wish: Wish, scale: float) -> None:
    one = plan(BERRY, Wish("litres", 6), "raspberry").needed
    found = plan(BERRY, wish, "raspberry").needed
    assert found.likely == pytest.approx(scale * one.likely)
    assert found.high == pytest.approx(scale * one.high)


def test_an_unnamed_fruit_has_the_wider_spread() -> None:
    named = plan(BERRY, Wish("bottles", 12), "raspberry").needed
    unnamed = plan(BERRY, Wish("bottles", 12)).needed
    assert unnamed.high - unnamed.low > 2 * (named.high - named.low)


def test_a_recipe_of_one_fruit_needs_no_name() -> None:
    assert plan(RECIPES["rhubarb-syrup"], Wish("fruit", 2)).batch.fruit == "rhubarb"


@pytest.mark.parametrize("name", PLANNED)
def test_every_recipe_can_be_planned(name: str) -> None:
    recipe = RECIPES[name]
    fruit = recipe.fruits[0] if recipe.fruits else None
    found = plan(recipe, Wish("litres", 2), fruit)
    assert found.syrup_ml.low >= 2000 * 0.999
    assert found.pan.pan_ml > found.pan.fullest_ml
    assert isinstance(found, Plan)


def test_more_than_one_batch_is_refused() -> None:
    with pytest.raises(OutOfRange, match="fruit for one batch"):
        plan(BERRY, Wish("bottles", 500), "raspberry")


def test_fruit_nobody_knows_and_fruit_without_acid() -> None:
    with pytest.raises(WrongUse, match="raspberry"):
        plan(BERRY, Wish("fruit", 1), "gravel")
    with pytest.raises(LimitStopped, match="low-acid"):
        plan(BERRY, Wish("fruit", 1), "fig")


def test_fruit_is_no_wish_for_a_recipe_without_it() -> None:
    with pytest.raises(WrongUse, match="starts from water"):
        plan(RECIPES["plain-syrup"], Wish("fruit", 1))


def test_finished_syrups_are_not_worked_back() -> None:
    with pytest.raises(WrongUse, match="stirs finished syrups"):
        plan(RECIPES["colour-blend"], Wish("litres", 1), "raspberry")


def test_several_sizes_are_planned_together() -> None:
    wish = Wish("bottles", 7, bottle_ml=500, others=((4, 250.0), (2, 330.0)))
    mixed = plan(BERRY, wish, "raspberry")
    plain = plan(BERRY, Wish("litres", 5.16), "raspberry")
    assert mixed.needed == plain.needed
    assert mixed.bottles[0] >= 7
    assert mixed.bottles_ready * 500 + 1660 >= mixed.syrup_ml.high - 1e-6


def test_what_other_sizes_hold_is_not_counted_twice() -> None:
    wish = Wish("fruit", 2.0, bottle_ml=500, others=((4, 250.0),))
    beside = plan(BERRY, wish, "raspberry").bottles
    alone = plan(BERRY, Wish("fruit", 2.0), "raspberry").bottles
    assert [one - other for one, other in zip(alone, beside, strict=True)] == [2, 2, 2]
