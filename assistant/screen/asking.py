"""The question that is open about a batch, as it stands on every page: words and answers to tap."""

from assistant.say import by_eye, events_line
from assistant.screen.facts import Tap
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn
from assistant.understand import Question

_PICKED = ("the first one", "the second one", "the third one")


def answers(question: Question | None) -> tuple[Tap, ...]:
    """What may be tapped: each candidate in its own words; () where yes and no are the answers."""
    candidates = question.candidates[: len(_PICKED)] if question else ()
    if question is None or question.kind == "sure" or len(candidates) < 2:
        return ()
    words = (by_eye(events_line(candidate)).removesuffix(".") for candidate in candidates)
    taps = zip(words, _PICKED, strict=False)
    found = (Tap(words=told[:1].upper() + told[1:], says=says) for told, says in taps)
    return (*found, Tap(words="None of these", says="no"))


def asked_words(turn: Turn) -> str:
    """The question of a turn as it was asked."""
    return " ".join(shown(turn)[:1])
