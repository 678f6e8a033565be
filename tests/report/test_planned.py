"""A plan in words and as an object."""

import json
import re

import pytest

from assistant.planning import Plan, Wish, plan
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report.planned import plan_lines, plan_record

BERRY = load_recipe("berry-syrup")
WISHES = {
    "bottles": Wish("bottles", 12),
    "litres": Wish("litres", 3),
    "guests": Wish("guests", 30),
    "fruit": Wish("fruit", 2.3),
}


def _said(found: Plan) -> str:
    return "\n".join(plan_lines(found))


@pytest.mark.parametrize("kind", WISHES)
def test_every_wish_is_told(kind: str) -> None:
    said = _said(plan(BERRY, WISHES[kind], "raspberry"))
    for part in ("Shopping list", "Makes", "Pan", "Time", "Not sure", "No promise"):
        assert part in said
    assert re.search(r"raspberry +[\d.]+ k?g", said)
    assert "None" not in said


def test_the_words_name_the_numbers_of_the_plan() -> None:
    found = plan(BERRY, WISHES["bottles"], "raspberry")
    record = plan_record(found)
    assert json.loads(json.dumps(record)) == record
    assert f"{record['base_to_buy'] / 1000:g} kg" in _said(found)
    assert record["bottles"]["low"] >= 12
    assert f"bottles {' ' * 20}"[:8].strip() in _said(found)
    assert record["time_s"]["low"] < record["time_s"]["likely"] < record["time_s"]["high"]


@pytest.mark.parametrize(
    ("name", "fruit", "words"),
    [
        ("berry-syrup", None, "say --fruit"),
        ("berry-syrup", "plum", "not written for this fruit"),
        ("berry-syrup", "blackberry", "can be above pH 4"),
        ("nut-syrup", None, "what is in it: nuts"),
        ("nut-syrup", None, "low in acid"),
        ("pomegranate-reduction", "pomegranate", "boiling down is not counted"),
        ("acid-blend", None, "nothing is heated"),
    ],
)
def test_what_is_uncertain_is_said(name: str, fruit: str | None, words: str) -> None:
    assert words in _said(plan(load_recipe(name), Wish("litres", 1), fruit))


@pytest.mark.parametrize("name", [n for n in recipe_names() if n != "colour-blend"])
def test_every_recipe_can_be_told(name: str) -> None:
    recipe = load_recipe(name)
    found = plan(recipe, Wish("litres", 1), recipe.fruits[0] if recipe.fruits else None)
    assert "None" not in _said(found)
    assert plan_record(found)["recipe"] == name
