"""Rooms over a journal of their own, with a clock that is told the time."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from assistant.base.clock import SetClock
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe, recipe_for
from assistant.screen.facts import View
from assistant.screen.room import Outcome, Room
from assistant.turns.desk import Desk
from assistant.turns.utterance import Utterance

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


def spoken(text: str) -> Heard:
    """As a recogniser that is sure of itself hands it on."""
    return Heard(text=text, guesses=(Guess(text=text, share=0.97),), sure=0.95, engine="scripted")


class Tent:
    """A batch, its room, and people who talk in it."""

    def __init__(self, folder: Path, recipe: str = "berry-syrup") -> None:
        self.journal = Journal(folder / "journal.sqlite")
        self.clock = SetClock(START)
        self.id = Desk(self.journal, self.clock).begin(load_recipe(recipe)).id
        self._ids = count()
        self.reopen()

    def reopen(self) -> None:
        """As after a power cut: nothing is left but the journal."""
        self.room = Room(self.journal, self.clock, recipe_for)
        self.room.open(self.id)

    def events(self) -> int:
        return len(self.journal.events(self.id))

    @property
    def stage(self) -> str:
        stage = self.room.desk.open(self.id).stage
        return stage.id if stage else ""

    def view(self) -> View:
        return self.room.view(self.id)

    def types(
        self,
        text: str,
        *,
        id: str | None = None,
        device: str = "a",
        stage: str | None = None,
        age_s: float = 0.0,
        after_s: float = 20.0,
    ) -> Outcome:
        self.clock.forward(after_s)
        name = id or f"typed-{next(self._ids)}"
        at = self.clock.now() - timedelta(seconds=age_s) if age_s else None
        return self.room.take(
            Utterance.typed(text, id=name, device=device, batch=self.id, stage=stage, at=at)
        )

    def says(self, text: str, *, device: str = "a", after_s: float = 20.0) -> Outcome:
        self.clock.forward(after_s)
        id = f"spoken-{next(self._ids)}"
        return self.room.take(Utterance(heard=spoken(text), id=id, device=device, batch=self.id))

    def all(self, texts: Iterable[str]) -> None:
        for text in texts:
            assert self.types(text).verdict == "take", text


TO_THE_HEAT = ("2 kg of raspberries", "done", "done")
"""What brings the berry syrup to the stove."""
