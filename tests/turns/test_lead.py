"""From a wish to a begun batch by short questions."""

from datetime import UTC, datetime

import pytest
from desk_maker import types

from assistant.base.clock import SetClock
from assistant.keep import Journal
from assistant.recipebook.files import all_recipes, load_recipe, recipe_for
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


def bare_desk(journal: Journal | None = None) -> Desk:
    return Desk(journal or Journal("sqlite://"), SetClock(START), recipe_for, recipes=all_recipes)


LED = [
    (("let's make some rhubarb syrup", "yes"), "rhubarb-syrup", "rhubarb"),
    (("I've got four kilos of plums, what now", "go on then"), "stone-fruit-syrup", "plum"),
    (("I need twenty bottles for a fete", "strawberries", "yes"), "berry-syrup", "strawberry"),
    (("something with vinegar", "warmed", "raspberries", "yeah"), "hot-shrub", "raspberry"),
    (("a bag of frozen berries, no clue", "yes please"), "frozen-berry-syrup", None),
    (("plums", "no", "a ginger one", "yes"), "ginger-syrup", "ginger"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "recipe", "fruit"), LED)
def test_a_wish_leads_to_a_batch(said: tuple[str, ...], recipe: str, fruit: str | None) -> None:
    desk = bare_desk()
    for each in said[:-1]:
        assert types(desk, each).verdict == "ask"
        assert desk.batches == ()
    types(desk, said[-1])
    (batch,) = desk.batches
    assert (batch.recipe.name, batch.fruit) == (recipe, fruit)


def test_the_weight_that_was_told_is_asked_about_and_counts_with_a_yes() -> None:
    desk = bare_desk()
    types(desk, "I've got four kilos of blackcurrants")
    asked = spoken(types(desk, "yes"))
    assert "four kilos" in asked
    assert "Which fruit" not in asked
    assert desk.in_hand().start is None
    types(desk, "yes")
    assert desk.in_hand().start is not None
    assert desk.in_hand().start.base == 4000  # type: ignore[union-attr]


def test_bottles_are_reckoned_back_to_fruit() -> None:
    """Twice as many bottles take twice the fruit."""
    need = []
    for count in ("ten", "twenty"):
        turn = types(bare_desk(), f"{count} bottles of raspberry syrup")
        need.append(turn.told[0].reply.lines[0].facts["need"].value)  # type: ignore[union-attr]
    assert need[1] == pytest.approx(2 * need[0])


def test_the_last_batch_is_made_again() -> None:
    journal = Journal("sqlite://")
    first = Desk(journal, SetClock(START), recipe_for)
    first.begin(load_recipe("rhubarb-syrup"), "rhubarb")
    desk = bare_desk(journal)
    assert "Rhubarb syrup" in spoken(types(desk, "make last week's again"))
    types(desk, "yes")
    assert [b.recipe.name for b in desk.batches] == ["rhubarb-syrup"]


@pytest.mark.parametrize(
    "said", ["hello", "I don't want plums", "what do you think", "is it raining", "got figs"]
)
def test_nothing_is_begun_without_a_yes(said: str) -> None:
    desk = bare_desk()
    turn = types(desk, said)
    assert (turn.verdict, turn.events, desk.batches) == ("ask", (), ())
    types(desk, "thanks")
    assert desk.batches == ()


def test_stop_ends_it() -> None:
    desk = bare_desk()
    assert types(desk, "stop").ended
    assert desk.batches == ()
