"""Calculations where a recipe is another one: spirit in it, low in acid, an acid solution."""

from datetime import timedelta

import pytest
from situations import Making

from assistant.base.clock import SetClock
from assistant.facts.events import Ask, Given, event_adapter
from assistant.keep import Journal
from assistant.recipebook.files import all_recipes, load_recipe, recipe_for
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown, spoken
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance


def _asked(name: str, stage: str, *said: str) -> Turn:
    """Lines typed at a stage of a recipe; the last one's turn."""
    recipe = load_recipe(name)
    making = Making("2026-07-11", name, recipe.fruits[0] if recipe.fruits else None)
    making.weight = making.weight if recipe.base == "fruit" else (2.0, "l")
    making.to(stage)
    journal, clock = Journal("sqlite://"), SetClock(making.at + timedelta(seconds=30))
    journal.append_all(making.id, making.events, 0)
    desk = Desk(journal, clock, recipe_for, recipes=all_recipes)
    desk.open(making.id)
    for each in said:
        clock.forward(40)
        turn = desk.take(Utterance.typed(each))
    return turn


SPIRIT = ("spirit-fortified-syrup", "bottle")


@pytest.mark.parametrize("said", ["how strong is a glass", "how much alcohol is in a glass"])
def test_a_syrup_with_spirit_tells_alcohol_and_units(said: str) -> None:
    told = spoken(_asked(*SPIRIT, said))
    assert "per cent of alcohol" in told
    assert "units of ten millilitres" in told
    assert "Not for children" in told


def test_the_spirit_that_is_in_counts_with_what_goes_in() -> None:
    more = spoken(_asked(*SPIRIT, "how strong is it with 500 ml of 40% vodka"))
    assert "24.3 per cent" in more


def test_no_refractometer_is_asked_for_where_spirit_is_in() -> None:
    turn = _asked(*SPIRIT, "how do I get it to 62 brix")
    assert "a refractometer misreads" in spoken(turn)
    assert "What does the meter say" not in " ".join(shown(turn))


def test_acid_earns_a_low_acid_syrup_no_days() -> None:
    turn = _asked("nut-syrup", "juice", "1 litre", "ph 4.4", "yes", "sour it to 3.5")
    words = " ".join(shown(turn))
    assert "low-acid" in words


@pytest.mark.parametrize(
    "said", ["how do I get it to 62 brix", "boil it down to 66", "a jug for eight"]
)
def test_an_acid_solution_has_no_brix_and_is_no_drink(said: str) -> None:
    told = spoken(_asked("citric-solution", "bottle", said))
    assert "takes none of that" in told or "no syrup to mix" in told


def test_what_a_question_was_asked_with_is_kept() -> None:
    given = (Given(name="target", value=62, unit="Brix"),)
    asks = Ask(at=Making("b", "berry-syrup").at, topic="reckon", about="to_brix", given=given)
    assert event_adapter.validate_json(asks.model_dump_json()) == asks
    assert "given" not in asks.model_copy(update={"given": ()}).model_dump()
