"""What cook answers: lines with facts in them, not yet words.

`say` turns a line into a sentence: its words stand under the line's id in `assistant/say/words/`,
or come along in `text` where a recipe or a limit brings its own.
"""

from collections.abc import Mapping, Sequence
from typing import Literal, get_args

from pydantic import BaseModel, ConfigDict

from assistant.base.units import Unit

Rank = Literal["limit", "caution", "question", "do", "answer", "read_back", "detail"]
"""Most urgent first. `detail` is shown, and spoken only when the cook asks for more."""


class Quantity(BaseModel):
    """An amount to be said: value, unit, and the spread where the inputs were uncertain.

    exact : said with the digits given (a reading read back), not rounded for the scales
    """

    model_config = ConfigDict(frozen=True)

    value: float
    unit: Unit
    low: float | None = None
    high: float | None = None
    exact: bool = False

    def likely(self) -> "Quantity":
        """The one number to weigh by; the spread is for answers, not for the scales."""
        return self.model_copy(update={"low": None, "high": None})


Fact = Quantity | str | int


class Line(BaseModel):
    """One sentence to be: its id, the facts that go in, and how urgent it is."""

    model_config = ConfigDict(frozen=True)

    id: str
    rank: Rank
    facts: Mapping[str, Fact] = {}
    text: str | None = None
    repeat: str | None = None
    """Name of the fact to say once more at the end: an amount that must not be misheard."""


AT_MOST = 2
"""Sentences spoken at a time: what a person at the stove can keep in mind."""
_URGENCY: dict[str, int] = {rank: place for place, rank in enumerate(get_args(Rank))}


class Reply(BaseModel):
    """The lines of one answer, in the order they should be heard.

    stopped : a limit holds the batch here until it is put right.
    """

    model_config = ConfigDict(frozen=True)

    lines: tuple[Line, ...] = ()
    stopped: bool = False

    def aloud(self, detail: bool = False) -> tuple[Line, ...]:
        """The lines to be spoken, in order: the two most urgent, and what is read back.

        A reading read back is a few words that lead into the first sentence, so it takes no
        sentence's room. `detail` also takes lines that are only shown otherwise.
        """
        chosen = self._chosen(detail)
        return tuple(line for place, line in enumerate(self.lines) if place in chosen)

    def left(self, detail: bool = False) -> tuple[Line, ...]:
        """The lines that `aloud` leaves out, in order: what is told when the cook asks for more."""
        chosen = self._chosen(detail)
        return tuple(line for place, line in enumerate(self.lines) if place not in chosen)

    def _chosen(self, detail: bool) -> set[int]:
        """The places of the lines to be spoken; of equally urgent ones the earlier."""
        ranks = [line.rank for line in self.lines]
        places = [n for n, rank in enumerate(ranks) if rank not in ("read_back", "detail")]
        if detail:
            places += [n for n, rank in enumerate(ranks) if rank == "detail"]
        places.sort(key=lambda place: _URGENCY[ranks[place]])
        leads = {n for n, rank in enumerate(ranks) if rank == "read_back"}
        return {*places[:AT_MOST], *leads}


def joined(replies: Sequence[Reply]) -> Reply:
    """Several events of one utterance are answered together; the last says what comes next."""
    lines = [line for reply in replies[:-1] for line in reply.lines if line.id != "stage"]
    last = replies[-1] if replies else Reply()
    return Reply(lines=(*lines, *last.lines), stopped=last.stopped)
