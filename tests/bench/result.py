"""What an engine made of one clip, and how that compares with what was said."""

from functools import cached_property

from pydantic import BaseModel, ConfigDict

from tests.bench.scoring import Clip, Meaning, Outcome, first_right, judged

CHANGES = frozenset(("reading", "correct", "bottle", "timer_set", "choose", "discard", "used"))
"""Kinds whose wrong taking puts a wrong figure or choice into the batch."""


class Made(BaseModel):
    """What came of the sound, before anybody compares it with what was said.

    taken : the events taken; questions : how many were asked back; offered : their candidates
    first : what the best guess means, whether it was taken, asked about or refused
    heard : the words of each utterance found; guesses : the alternatives with their shares
    decided : from the last word to the decision [s], None where it can't be told
    computed : computing time [s]; seconds : length of the sound [s]
    alone : whether nothing else was running, so that the times count
    peak_mb : most memory of the process so far [MB]
    """

    model_config = ConfigDict(frozen=True)

    taken: tuple[Meaning, ...] = ()
    questions: int = 0
    offered: tuple[tuple[Meaning, ...], ...] = ()
    first: tuple[Meaning, ...] = ()
    heard: tuple[str, ...] = ()
    guesses: tuple[tuple[str, float], ...] = ()
    reasons: tuple[str, ...] = ()
    decided: float | None = None
    computed: float = 0.0
    understanding: float = 0.0
    seconds: float = 0.0
    alone: bool = False
    peak_mb: int = 0


class Result(BaseModel):
    """A clip, the engine, and what the engine made of it."""

    model_config = ConfigDict(frozen=True)

    clip: Clip
    engine: str
    made: Made

    @cached_property
    def outcome(self) -> Outcome:
        """The verdict of `scoring.judged`."""
        return judged(self.clip, list(self.taken), [list(each) for each in self.made.offered])

    @property
    def taken(self) -> tuple[Meaning, ...]:
        """The events taken."""
        return self.made.taken

    @property
    def heard(self) -> tuple[str, ...]:
        """The words of each utterance."""
        return self.made.heard

    @property
    def harmful(self) -> bool:
        """Whether a figure or choice was taken that nobody gave."""
        return self.outcome == "wrong" and any(m["kind"] in CHANGES for m in self.taken)

    @cached_property
    def first_right(self) -> bool:
        """Whether the best guess was right, whatever was done with it."""
        return first_right(self.clip, list(self.made.first))
