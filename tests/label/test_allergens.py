"""The allergen line: what is known is told, and nothing is ruled out."""

from dataclasses import replace

import pytest
from batch_maker import Maker
from label_maker import bottled

from assistant.label.allergens import allergen_words, known_allergens
from assistant.recipebook.files import load_recipe

BATCH = bottled()


def test_without_knowledge_it_promises_nothing() -> None:
    assert allergen_words(BATCH) == "Ask the maker."


@pytest.mark.parametrize(
    ("note", "known"),
    [
        ("juice from a carton, sulphited", ("sulphites",)),
        ("used Sulfites", ("sulphites",)),
        ("stirred with the almond spoon", ("nuts",)),
        ("no nuts in it", ("nuts",)),
        ("egg white and milk", ("eggs", "milk")),
        ("smells of roses and nutmeg", ()),
        ("eggplant-coloured, creamy", ()),
    ],
)
def test_a_note_that_names_one_counts(note: str, known: tuple[str, ...]) -> None:
    batch = replace(BATCH, notes=(note,))
    assert known_allergens(batch) == known
    assert all(name in allergen_words(batch) for name in known)
    assert "sk the maker" in allergen_words(batch)


def test_what_the_recipe_declares_is_told_once() -> None:
    batch = replace(BATCH, recipe=load_recipe("nut-syrup"), notes=("walnuts",))
    assert known_allergens(batch) == ("nuts",)


def test_certain_noted_and_unknown_stand_apart() -> None:
    maker = Maker("nut-syrup")
    maker.reads("water", 1000, "ml")
    maker.done()  # blanched
    maker.done()
    certain = allergen_words(maker.batch)
    assert certain == "Contains nuts (almonds). Ask the maker about others."
    noted = replace(maker.batch, notes=("a spoon of cream",))
    assert allergen_words(noted) == (
        "Contains nuts (almonds). Noted: milk. Ask the maker about others."
    )
    solution = Maker("lactic-solution")
    solution.reads("water", 1000, "ml")
    solution.done()
    assert allergen_words(solution.batch) == "Of lactic acid not known. Ask the maker."
