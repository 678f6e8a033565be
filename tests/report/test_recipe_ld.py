"""Recipes as schema.org Recipe: the properties and types its definition asks for."""

import json
import re
from typing import Any

import pytest

from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report.recipe_ld import recipe_ld

# schema.org, types Recipe and HowToStep: the properties used here and their expected types, with
# Text as str, Integer as int and a repeated property as list.
RECIPE: dict[str, type] = {
    "@context": str,
    "@type": str,
    "name": str,
    "description": str,
    "keywords": str,
    "recipeYield": str,
    "recipeIngredient": list,
    "recipeInstructions": list,
}
STEP: dict[str, type] = {"@type": str, "position": int, "name": str, "text": str}
ALL = [pytest.param(recipe_ld(load_recipe(name)), id=name) for name in recipe_names()]


def _has(found: dict[str, Any], wanted: dict[str, type]) -> None:
    assert set(found) == set(wanted)
    for key, kind in wanted.items():
        assert isinstance(found[key], kind), key
        assert found[key], key


@pytest.mark.parametrize("found", ALL)
def test_a_recipe_has_what_the_type_asks_for(found: dict[str, Any]) -> None:
    _has(found, RECIPE)
    assert (found["@context"], found["@type"]) == ("https://schema.org", "Recipe")
    assert all(isinstance(each, str) and each for each in found["recipeIngredient"])
    for number, each in enumerate(found["recipeInstructions"], 1):
        _has(each, STEP)
        assert (each["@type"], each["position"]) == ("HowToStep", number)


@pytest.mark.parametrize("found", ALL)
def test_sentences_are_filled_in(found: dict[str, Any]) -> None:
    text = json.dumps(found)
    assert not re.search(r"\{[a-z_]+\}", text)
    assert "2000" not in " ".join(step["text"] for step in found["recipeInstructions"])
    assert text.count("http") == 1


def test_allergens_and_cautions_travel_along() -> None:
    found = recipe_ld(load_recipe("nut-syrup"))
    assert "Contains nuts." in found["description"]
    assert any("burns" in step["text"] for step in found["recipeInstructions"])


def test_amounts_are_those_of_a_kilo() -> None:
    found = recipe_ld(load_recipe("berry-syrup"))
    assert found["recipeIngredient"][0].startswith("1 kg of blackcurrant or raspberry")
    crush = next(s["text"] for s in found["recipeInstructions"] if s["name"] == "Crush")
    assert "250 g" in crush  # a quarter of the fruit, by the recipe
