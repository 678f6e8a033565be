"""A desk with one batch on it, and typing at it."""

from assistant.base.clock import Clock
from assistant.hear.heard import Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.turns.desk import Desk
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance


def begun(journal: Journal, clock: Clock, recipe: str = "berry-syrup") -> Desk:
    """A new batch of a recipe."""
    desk = Desk(journal, clock)
    desk.begin(load_recipe(recipe))
    return desk


def resumed(batch_id: str, journal: Journal, clock: Clock) -> Desk:
    """A batch that is gone on with."""
    desk = Desk(journal, clock)
    desk.open(batch_id)
    return desk


def types(desk: Desk, *lines: str) -> Turn:
    """Lines on the keyboard; the last one's turn."""
    for line in lines:
        turn = desk.take(Utterance.typed(line))
    return turn


def hears(desk: Desk, heard: Heard) -> Turn:
    """Something through a microphone."""
    return desk.take(Utterance(heard=heard))
