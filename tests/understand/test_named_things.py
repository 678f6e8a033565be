"""A recipe's own ingredients in a sentence: named by any of their names, never mixed up."""

from datetime import UTC, datetime

import pytest

from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import Ask, Correct, Reading
from assistant.facts.stuff import RANGES, UNITS
from assistant.hear.heard import Heard
from assistant.understand import Understood, understand
from assistant.understand.named_things import with_own_names

NOW = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
LOW, HIGH = RANGES["ingredient"]
ASKED = Asked(
    awaited=(Awaited(what="ingredient", units=UNITS["ingredient"], low=LOW, high=HIGH),),
    kind="add",
    about="ginger",
    things=(("ginger", "ginger"), ("ginger juice", "juice_of_ginger"), ("zest", "peel")),
)


def said(text: str, asked: Asked = ASKED) -> Understood:
    return with_own_names(
        Heard.typed(text), asked, lambda heard: understand(heard, asked, NOW, None)
    )


@pytest.mark.parametrize(
    ("text", "of", "value", "unit"),
    [
        ("two hundred grams of ginger", "ginger", 200, "g"),
        ("i added 30 g of zest", "peel", 30, "g"),
        ("the ginger juice is 50 ml", "juice_of_ginger", 50, "ml"),
        ("Twelve zest", "peel", 12, "count"),
        ("200 g", "", 200, "g"),
    ],
)
def test_an_amount_is_of_what_was_named(text: str, of: str, value: float, unit: str) -> None:
    (event,) = said(text).events
    assert isinstance(event, Reading)
    assert (event.what, event.of, event.value, event.unit) == ("ingredient", of, value, unit)
    assert event.heard == text


def test_a_correction_names_it_too() -> None:
    (event,) = said("make that 40 g of zest").events
    assert isinstance(event, Correct)
    assert event.of == "peel"


def test_it_can_be_asked_about() -> None:
    (event,) = said("how much zest do i need").events
    assert isinstance(event, Ask)
    assert event.about == "peel"


@pytest.mark.parametrize("text", ["20 g of zest and 30 g of ginger", "200 grams of gingerbread"])
def test_two_of_them_or_none_is_left_to_the_grammars(text: str) -> None:
    assert said(text).verdict == "refuse"


def test_what_no_recipe_brings_along_stays_unknown() -> None:
    assert said("200 g of zest", Asked()).verdict == "refuse"
