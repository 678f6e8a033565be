"""What the pages of one batch list: the last things that were said, and what came of them."""

from collections import deque
from collections.abc import Sequence
from datetime import datetime

from assistant.facts.events import AnyEvent
from assistant.screen.course import MOST, not_taken, replayed, taken
from assistant.screen.facts import Said
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn


class Board:
    """The talk about one batch, from its journal and what has been said since.

    written : how many events it tells of
    """

    def __init__(self, events: Sequence[AnyEvent]) -> None:
        _, said = replayed(events)
        self.said: deque[Said] = deque(said, MOST)
        self.written = len(events)

    def note(self, turn: Turn, heard: str, at: datetime, written: int) -> None:
        """A turn that came now; talk that was not for us is not kept.

        written : how many events the journal has by now
        """
        self.written = written
        show = shown(turn)
        if turn.verdict == "take" and turn.events:
            self.said.append(taken(turn.events, show))
        elif show and turn.verdict in ("ask", "refuse"):
            self.said.append(not_taken(at, heard, show, turn.verdict == "ask", yes_no(turn)))

    def remind(self, turn: Turn, at: datetime) -> None:
        """Something that was said unasked."""
        answer = shown(turn)
        self.said.append(Said(at=at, heard="", understood="", answer=answer, verdict="reminder"))


def yes_no(turn: Turn) -> bool:
    """Whether it asks about one thing alone, so that yes or no will do."""
    return turn.verdict == "ask" and not turn.also
