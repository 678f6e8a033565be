"""A sentence, clause by clause, with how each is meant and what is being asked."""

from dataclasses import dataclass
from datetime import datetime

from assistant.facts.asked import Asked
from assistant.understand.told.clauses import Clause, clauses
from assistant.understand.told.stance import Stance, stances

LEVELS = ("temperature", "ph", "brix")
"""What has one value at a time, and may be told at any time."""


@dataclass(frozen=True)
class Talk:
    """A sentence, clause by clause, with the stance of each and what is being asked."""

    clauses: tuple[Clause, ...]
    stances: tuple[Stance, ...]
    asked: Asked
    at: datetime

    @property
    def text(self) -> str:
        """All of its words."""
        return " ".join(c.text for c in self.clauses)

    @property
    def said(self) -> str:
        """All of its words, with those that join the clauses."""
        return " ".join(f"{c.joiner} {c.text}".strip() for c in self.clauses)

    @property
    def first(self) -> str:
        """The reading that the stage waits for most, "" where it waits for none."""
        first = self.asked.awaited[0].what if self.asked.awaited else ""
        always = first in LEVELS and self.asked.kind in ("add", "do", "rest", "option", "bottle")
        return "" if always else first

    def having(self, *wanted: Stance) -> list[int]:
        """The places of the clauses with one of these stances."""
        return [n for n, stance in enumerate(self.stances) if stance in wanted]


def talk_of(text: str, asked: Asked, at: datetime) -> Talk:
    """A text parted into clauses, with the stance of each."""
    found = clauses(text)
    return Talk(found, stances(found), asked, at)
