"""Recipes that came along are known by their digest, whichever version it was."""

import pytest
from batch_maker import RECIPE

from assistant.cook.recipe import Recipe
from assistant.cook.shipped import digest, known, standing
from assistant.recipebook.files import load_recipe, recipe_names


@pytest.mark.parametrize("name", recipe_names())
def test_a_recipe_is_noted_as_it_is(name: str) -> None:
    """After a change of a recipe: python -m tests.shipped_recipes"""
    assert digest(load_recipe(name)) in known()[name]


def test_a_changed_recipe_of_a_known_name_is_edited_and_another_is_one_s_own() -> None:
    assert standing(Recipe.model_validate(RECIPE)) == "shipped"
    targets = {**RECIPE["targets"], "ph_high": 4.2}
    assert standing(Recipe.model_validate({**RECIPE, "targets": targets})) == "edited"
    assert standing(Recipe.model_validate({**RECIPE, "name": "grandmother"})) == "own"
