"""Several batches by voice: a fruit's name renames none, and a timer is stopped where it runs."""

from batch_maker import START
from desk_maker import types

from assistant.base.clock import SetClock
from assistant.cook import Batch
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe, recipe_for
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn


class Stove:
    """A rhubarb batch, then a berry syrup whose fruit nobody has named yet."""

    def __init__(self, *recipes: tuple[str, str]) -> None:
        self.clock = SetClock(START)
        self.desk = Desk(Journal("sqlite://"), self.clock, recipe_for)
        for recipe, fruit in recipes:
            self.desk.begin(load_recipe(recipe), fruit)

    def types(self, *lines: str) -> Turn:
        for line in lines:
            self.clock.forward(30)
            turn = types(self.desk, line)
        return turn

    def batch(self, recipe: str) -> Batch:
        return next(b for b in self.desk.batches if b.recipe.name == recipe)


def test_a_fruit_in_answer_to_which_names_the_batch_and_renames_none() -> None:
    stove = Stove(("berry-syrup", ""), ("rhubarb-syrup", "rhubarb"))
    turn = stove.types("2 kg")
    assert turn.verdict == "ask"
    stove.types("the raspberry")
    assert stove.batch("rhubarb-syrup").fruit == "rhubarb"
    assert stove.batch("rhubarb-syrup").start is None
    start = stove.batch("berry-syrup").start
    assert start is not None
    assert start.base == 2000


def test_the_rhubarb_said_to_a_plum_batch_renames_nothing() -> None:
    stove = Stove(("berry-syrup", "raspberry"))
    stove.types("start a batch of plum syrup", "rhubarb")
    assert stove.batch("stone-fruit-syrup").fruit == "plum"
    stove.types("no")
    assert stove.batch("stone-fruit-syrup").fruit == "plum"


def test_two_kilos_of_rhubarb_are_not_offered_to_a_batch_of_plums() -> None:
    stove = Stove(("stone-fruit-syrup", "plum"), ("rhubarb-syrup", "rhubarb"))
    turn = stove.types("2 kg of rhubarb")
    assert turn.verdict == "take"
    assert stove.batch("stone-fruit-syrup").start is None
    assert stove.batch("rhubarb-syrup").start is not None


def test_a_timer_is_stopped_in_the_batch_that_has_it() -> None:
    stove = Stove(("rhubarb-syrup", "rhubarb"), ("berry-syrup", "raspberry"))
    stove.types("for the rhubarb, set a timer for ten minutes", "for the raspberry")
    stove.types("where are we")
    turn = stove.types("stop the timer")
    assert stove.batch("rhubarb-syrup").timers == ()
    assert spoken(turn).startswith("Rhubarb")


def test_where_two_batches_have_one_it_is_asked() -> None:
    stove = Stove(("rhubarb-syrup", "rhubarb"), ("berry-syrup", "raspberry"))
    stove.types("for the rhubarb, set a timer for ten minutes")
    stove.types("for the raspberry, set a timer for ten minutes", "where are we")
    assert stove.types("stop the timer").verdict == "ask"
    stove.types("the rhubarb")
    assert stove.batch("rhubarb-syrup").timers == ()
    assert len(stove.batch("berry-syrup").timers) == 1
