"""Every calculation in every recipe, with numbers that nobody means: a short answer."""

from collections.abc import Iterator

import pytest
from situations import Making
from test_wished import ASKED

from assistant import say
from assistant.cook import Batch
from assistant.cook.questions import take_question
from assistant.facts.events import Ask, Given
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.understand.wished import wish

MOST_WORDS = 50
"""About 35 are wanted; large amounts with their spread take more."""
STRANGE = (-1.0, 0.0, 1e-9, 0.5, 7.0, 99.9, 1e4, 1e12)


def _stood(name: str) -> Iterator[Making]:
    """A batch of a recipe at each stage that is of another kind than the one before."""
    recipe, last = load_recipe(name), ""
    making = Making("b", name, recipe.fruits[0] if recipe.fruits else None)
    if recipe.base != "fruit":
        making.weight = (2.0, "l")
    for _ in range(60):
        stage = making.batch.stage
        kind = stage.kind if stage else "end"
        if kind != last:
            yield making
        if stage is None:
            return
        last = kind
        making._pass()


def _given(said: str) -> tuple[str, tuple[Given, ...]]:
    found = wish(said)
    assert found is not None
    return found.subject, found.given


def _asks(making: Making, subject: str, given: tuple[Given, ...]) -> str:
    event = Ask(at=making.at, topic="reckon", about=subject, given=given)
    after, reply = take_question(making.batch, event)
    _unchanged(making.batch, after)
    return say.spoken(reply)


def _unchanged(before: Batch, after: Batch) -> None:
    assert (before.taken, before.added, before.stage_index) == (
        after.taken,
        after.added,
        after.stage_index,
    )


@pytest.mark.parametrize("name", recipe_names())
def test_every_calculation_answers_in_a_recipe(name: str) -> None:
    for making in _stood(name):
        for said, _ in ASKED.values():
            words = _asks(making, *_given(said))
            assert words
            assert len(words.split()) <= MOST_WORDS


@pytest.mark.parametrize("value", STRANGE)
def test_a_number_that_nobody_means_is_answered(value: float) -> None:
    for making in _stood("berry-syrup"):
        for said, _ in ASKED.values():
            subject, given = _given(said)
            for place in range(len(given)):
                odd = given[place].model_copy(update={"value": value})
                assert _asks(making, subject, (*given[:place], odd, *given[place + 1 :]))
