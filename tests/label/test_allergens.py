"""The allergen line: what is known is told, and nothing is ruled out."""

from dataclasses import replace

import pytest
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
