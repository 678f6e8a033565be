"""What understanding comes to: take it, ask back, or refuse."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from assistant.facts.events import AnyEvent

Verdict = Literal["take", "ask", "refuse"]
Why = Literal[
    "sounds_alike", "unsure", "impossible", "decides", "jump", "order_of_magnitude",
    "two_ways", "unit", "serious", "which_card", "which_sort", "quantity", "ahead", "wish",
]  # fmt: skip
"""sounds_alike: seventeen or seventy. unsure: the hearing was weak or a number was repaired.
impossible: outside what can be. decides: a safety decision turns on it. jump: too fast a change.
order_of_magnitude: a decimal point lost or invented. two_ways: the words mean two things
("two fifty"). unit: a bare number that fits only another unit than the usual one. serious: can't
be undone (throwing away). which_card: two questions lie near each other. quantity:
a number that may be another quantity than the one that is asked for. ahead: the words fit a stage
that comes later. wish: a number that puts a reading right, or is wished for."""

Refusal = Literal[
    "chatter", "not_understood", "not_now", "wrong_unit", "nothing_asked", "absurd", "unsure",
    "say_again_please", "partial",
]  # fmt: skip
"""chatter: speech for somebody else. not_understood: no meaning. not_now: a number, an amount or a
pick that nothing waits for. wrong_unit: the wrong kind of unit for what was named. nothing_asked:
yes or no to no question. absurd: no kitchen has it. unsure: too weak a hearing. say_again_please:
the cook said no to a question. partial: still speaking."""


class Question(BaseModel):
    """What to ask back: which of the candidates, or whether the only one is right.

    otherwise : what a no leaves of it, () for nothing
    """

    model_config = ConfigDict(frozen=True)

    kind: Literal["which", "sure"]
    candidates: tuple[tuple[AnyEvent, ...], ...]
    reason: Why
    otherwise: tuple[AnyEvent, ...] = ()


class Understood(BaseModel):
    """The verdict on one utterance.

    events : what was taken, () unless the verdict is "take"
    question : what to ask, only when the verdict is "ask"
    also : events it could have been instead (runners-up), for showing; never acted upon
    reason : why it was asked or refused, as a code; "" when taken
    doubt : code of a line that asks for what is missing, instead of a question about candidates
    facts : the facts of that line, in words
    missing : what the line asks for, where its answer alone completes what was said: a reading's
        name, "timer", "bottles" for their size, "part_bottle" for what is in the last
    said : the words that it completes, where they are not what was heard
    """

    model_config = ConfigDict(frozen=True)

    verdict: Verdict
    events: tuple[AnyEvent, ...] = ()
    question: Question | None = None
    also: tuple[AnyEvent, ...] = ()
    reason: str = ""
    doubt: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    missing: str = ""
    said: str = ""


def take(events: tuple[AnyEvent, ...], also: tuple[AnyEvent, ...] = ()) -> Understood:
    """The events count."""
    return Understood(verdict="take", events=events, also=also)


def refuse(reason: Refusal) -> Understood:
    """Nothing comes of it."""
    return Understood(verdict="refuse", reason=reason)


def ask(reason: Why, *candidates: tuple[AnyEvent, ...]) -> Understood:
    """Ask back: which of several, or sure about one."""
    kind: Literal["which", "sure"] = "sure" if len(candidates) == 1 else "which"
    question = Question(kind=kind, candidates=candidates, reason=reason)
    also = tuple(event for candidate in candidates[1:] for event in candidate)
    return Understood(verdict="ask", question=question, also=also, reason=reason)


def doubt(code: str, facts: tuple[tuple[str, str], ...], missing: str = "") -> Understood:
    """Ask for what is missing: nothing of it can be confirmed by a yes."""
    return Understood(verdict="ask", reason="doubt", doubt=code, facts=facts, missing=missing)
