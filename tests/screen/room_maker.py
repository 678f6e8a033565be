"""Rooms over a journal of their own, with a clock that is told the time."""

from collections.abc import Iterable
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from assistant.base.clock import SetClock
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.screen.room import Outcome, Room, Words
from assistant.turns.session import Session

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


def spoken(text: str) -> Heard:
    """As a recogniser that is sure of itself hands it on."""
    return Heard(text=text, guesses=(Guess(text=text, share=0.97),), sure=0.95, engine="scripted")


class Tent:
    """A batch, its room, and people who talk in it."""

    def __init__(self, folder: Path, recipe: str = "berry-syrup") -> None:
        self.journal = Journal(folder / "journal.sqlite")
        self.clock = SetClock(START)
        self.id = Session.start(load_recipe(recipe), self.journal, self.clock).batch.id
        self._ids = count()
        self.reopen()

    def reopen(self) -> None:
        """As after a power cut: nothing is left but the journal."""
        self.room = Room(self.id, self.journal, self.clock)

    def events(self) -> int:
        return len(self.journal.events(self.id))

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
        return self.room.take(Words(name, Heard.typed(text), device, stage, age_s))

    def says(self, text: str, *, device: str = "a", after_s: float = 20.0) -> Outcome:
        self.clock.forward(after_s)
        return self.room.take(Words(f"spoken-{next(self._ids)}", spoken(text), device))

    def all(self, texts: Iterable[str]) -> None:
        for text in texts:
            assert self.types(text).verdict == "take", text


TO_THE_HEAT = ("2 kg of raspberries", "done", "done")
"""What brings the berry syrup to the stove."""
