"""A line of the panel, said where it is said: what came of it, as events and words."""

import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from situations import SITUATIONS, Situation

from assistant.base.clock import SetClock
from assistant.base.errors import PansideError
from assistant.facts.events import AnyEvent
from assistant.hear.heard import Heard
from assistant.keep import Journal
from assistant.recipebook.files import all_recipes, recipe_for
from assistant.turns import rendering
from assistant.turns.desk import Desk
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

_IN_MEMORY = next((place for place in ("/dev/shm",) if Path(place).is_dir()), None)
FALLBACK = ("i didn't get that", "i don't know", "did not get that")
"""How a refusal begins, whatever follows it."""


@dataclass(frozen=True)
class Answer:
    """What came of a line.

    verdict : take, ask or refuse
    events : meanings that count
    candidates : meanings that were asked about, written down or not: they count with a yes
    words : all that was said and shown
    heard : what was said
    """

    verdict: str
    events: tuple[dict[str, Any], ...]
    candidates: tuple[dict[str, Any], ...]
    words: str
    heard: str = ""

    @property
    def asks(self) -> bool:
        """Whether it asks back."""
        return self.verdict == "ask" or self.words.rstrip().endswith("?")

    @property
    def refused(self) -> bool:
        """Whether it was not understood."""
        return self.verdict == "refuse" and not self.asks


def answer(situation: str, *lines: str, spoken: bool = False) -> Answer:
    """The answer to the last of the lines, each of them said there one after the other."""
    where = _stands(situation)
    with tempfile.TemporaryDirectory(dir=_IN_MEMORY) as scratch:
        journal = Journal(Path(scratch) / "panel.sqlite")
        clock = SetClock(where.now)
        for making in where.makings:
            journal.append_all(making.id, making.events, 0)
        try:
            desk = _desk(journal, clock, [m.id for m in where.makings])
            for line in lines:
                clock.forward(2)
                turn = desk.take(Utterance(heard=_heard(line, spoken)))
        except PansideError as error:
            return Answer("refuse", (), (), str(error))
        finally:
            journal.close()
    return _answered(turn, desk)


@cache
def _stands(name: str) -> Situation:
    return SITUATIONS[name]()


def _desk(journal: Journal, clock: SetClock, batches: list[str]) -> Desk:
    desk = Desk(journal, clock, recipe_for, recipes=all_recipes)
    for name in batches:
        desk.open(name)
    return desk


def _heard(line: str, spoken: bool) -> Heard:
    heard = Heard.typed(line)
    return heard.model_copy(update={"engine": "scripted"}) if spoken else heard


def _asked_about(desk: Desk) -> list[AnyEvent]:
    """What a yes would make true."""
    pending = desk.question(desk.in_hand().id)
    return [e for candidate in pending.candidates for e in candidate] if pending else []


def _answered(turn: Turn, desk: Desk) -> Answer:
    if not desk.batches:
        return Answer(turn.verdict, (), (), rendering.spoken(turn), rendering.spoken(turn))
    held = desk.in_hand().held if turn.events else None
    waits = [e for e in turn.events if held is not None and e.meaning() == held.event.meaning()]
    events = tuple(e.meaning() for e in turn.events if e not in waits)
    candidates = tuple(e.meaning() for e in (*turn.also, *waits, *_asked_about(desk)))
    heard = rendering.spoken(turn)
    words = " ".join(dict.fromkeys((heard, *rendering.shown(turn))))
    return Answer("ask" if waits else turn.verdict, events, candidates, words, heard)
