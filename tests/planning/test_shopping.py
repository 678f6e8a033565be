"""The shopping list of a batch."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.fruits import all_fruits
from assistant.planning import Wish, plan
from assistant.planning.shopping import base_to_buy, round_up, shopping
from assistant.planning.trial import trial_batch
from assistant.recipebook.files import load_recipe, recipe_names

RECIPES = {name: load_recipe(name) for name in recipe_names()}


BERRY = RECIPES["berry-syrup"]


@pytest.mark.parametrize(
    "fruit", sorted(n for n, f in all_fruits().items() if f.acidity_class != "low-acid")
)
def test_acid_is_held_in_reserve_for_fruit_that_may_lack_it(fruit: str) -> None:
    figures = all_fruits()[fruit]
    found = plan(BERRY, Wish("fruit", 2), fruit)
    acid = next(item for item in found.items if item.name == "citric_acid")
    may_lack = figures.ph_high is not None and figures.ph_high > 4.0
    assert (acid.reserve > 0) is may_lack
    assert acid.buy >= acid.needed.high + acid.reserve


@given(st.floats(0.01, 50_000), st.sampled_from([1.0, 5.0, 50.0, 500.0]))
def test_rounding_goes_up_and_no_further(value: float, step: float) -> None:
    rounded = round_up(value, step)
    assert value - 1e-6 * step <= rounded < value + step + 1e-6
    assert base_to_buy(value) >= value * (1 - 1e-9)


def test_the_same_stuff_is_one_item_and_water_is_none() -> None:
    names = [item.name for item in shopping(trial_batch(BERRY, 2000, "raspberry"))]
    assert names == ["sugar", "citric_acid", "ascorbic_acid", "glycerin", "sorbate"]


def test_what_nobody_has_said_yes_to_is_optional() -> None:
    items = {item.name: item for item in shopping(trial_batch(BERRY, 2000, "raspberry"))}
    assert {name for name, item in items.items() if item.optional} == {
        "ascorbic_acid", "glycerin", "sorbate"
    }  # fmt: skip


def test_sugar_is_bought_by_the_bag() -> None:
    # Bags of 500 g; common practice, no source
    (sugar, *_) = shopping(trial_batch(BERRY, 2000, "raspberry"))
    assert sugar.buy % 500 == 0
    assert sugar.needed.high <= sugar.buy < sugar.needed.high + 500
