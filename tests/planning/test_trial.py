"""A batch on paper: the recipe folded with a weight."""

import pytest

from assistant.base.errors import LimitStopped, OutOfRange, WrongUse
from assistant.planning.trial import base_bounds, base_unit, first_events, sole_fruit, trial_batch
from assistant.recipebook.files import load_recipe, recipe_names

BERRY = load_recipe("berry-syrup")


@pytest.mark.parametrize("name", recipe_names())
def test_every_recipe_can_be_begun_on_paper(name: str) -> None:
    recipe = load_recipe(name)
    batch = trial_batch(recipe, 1000, recipe.fruits[0] if recipe.fruits else None)
    assert (batch.stage_index, batch.start and batch.start.base) == (1, 1000)


def test_fruit_is_weighed_and_the_rest_is_measured() -> None:
    assert base_unit(BERRY) == "g"
    assert base_unit(load_recipe("plain-syrup")) == "ml"


def test_the_bounds_are_the_stricter_of_recipe_and_kitchen() -> None:
    # The recipe weighs 100 g to 50 kg of fruit, a kitchen from 50 g
    assert base_bounds(BERRY) == (100, 50_000)
    for base in (99, 50_001):
        with pytest.raises(OutOfRange):
            trial_batch(BERRY, base)


def test_a_fruit_nobody_knows_and_one_that_is_not_sour_enough() -> None:
    with pytest.raises(WrongUse, match="gravel"):
        trial_batch(BERRY, 1000, "gravel")
    with pytest.raises(LimitStopped, match="low-acid"):
        trial_batch(BERRY, 1000, "fig")


def test_a_fruit_and_a_weight_are_said_where_they_are_known() -> None:
    batch = trial_batch(BERRY, 1000, "raspberry")
    at = batch.begun_at
    assert [e.kind for e in first_events(BERRY, 1000, "raspberry", at)] == ["choose", "reading"]
    assert first_events(BERRY, None, None, at) == ()


def test_the_only_fruit_needs_no_name() -> None:
    assert sole_fruit(load_recipe("rhubarb-syrup")) == "rhubarb"
    assert sole_fruit(BERRY) is None
