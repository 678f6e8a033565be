"""What a recipe file may not promise nor ask for."""

from typing import Any

import pytest
from batch_maker import RECIPE

from assistant.cook.recipe import Recipe
from assistant.cook.recipe_safety import faults
from assistant.recipebook.files import load_recipe, recipe_names


def changed(**changes: Any) -> Recipe:
    return Recipe.model_validate({**RECIPE, **changes})


@pytest.mark.parametrize("name", recipe_names())
def test_the_recipes_that_come_along_promise_nothing(name: str) -> None:
    assert faults(load_recipe(name)) == ()


@pytest.mark.parametrize(
    "words",
    [
        "Botulism proof.",
        "It is safe for a year.",
        "Shelf-stable without a fridge.",
        "It keeps for years.",
        "It never spoils.",
        "No need to measure the pH.",
        "Keep it in the cupboard.",
        "The heat kills all germs.",
    ],
)
def test_a_claim_in_a_text_is_a_fault(words: str) -> None:
    assert "claim" in faults(changed(summary=words))[0]
    stages = [{**stage} for stage in RECIPE["stages"]]
    stages[-1]["why"] = words
    assert faults(changed(stages=stages))[0].startswith("stages.store.why")


@pytest.mark.parametrize(
    ("name", "rule"),
    [
        # Regulation (EC) 1333/2008, Annex II, 14.1.4: 300 mg/l as sorbic acid, from memory
        ("sorbate", {"rule": "per_litre", "of": "syrup", "amount": 0.45}),
        ("sorbate", {"rule": "share_of_base", "share": 0.024}),
        ("ascorbic_acid", {"rule": "per_litre", "of": "juice", "amount": 30.0}),
        # lemon juice itself: about 48 g/l, Penniston et al. (2008), from memory
        ("citric_acid", {"rule": "per_litre", "of": "juice", "amount": 400.0}),
        ("glycerin", {"rule": "per_litre", "of": "syrup", "amount": 900.0, "unit": "ml"}),
    ],
)
def test_an_amount_beyond_a_limit_is_a_fault(name: str, rule: dict[str, Any]) -> None:
    assert faults(changed(amounts={**RECIPE["amounts"], name: rule}))[0].startswith(
        f"amounts.{name}"
    )


def test_a_ph_before_the_last_addition_is_a_fault() -> None:
    stages = list(RECIPE["stages"])
    ph = next(s for s in stages if s["id"] == "ph")
    stages.remove(ph)
    at = [s["id"] for s in stages].index("sharpen")
    assert faults(changed(stages=[*stages[:at], ph, *stages[at:]]))[0].startswith("stages.ph")
