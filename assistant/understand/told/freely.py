"""The free reader: whole sentences, when the grammars make nothing of them.

What is told is put into the grammars' own words and judged as if it had been said so: the same
bounds, twins and questions back. Words that were not understood beside it make it asked.
"""

from collections.abc import Callable
from datetime import datetime
from itertools import chain, product

from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Sign
from assistant.hear.heard import Guess, Heard
from assistant.understand.told.alarm import alarm_parts
from assistant.understand.told.bottles import bottle_parts, one_bottling
from assistant.understand.told.canning import canning_parts
from assistant.understand.told.forecast import forecast_parts
from assistant.understand.told.fruit import fruit_parts
from assistant.understand.told.juice import juice_parts
from assistant.understand.told.lexicon import pattern
from assistant.understand.told.noting import note_parts
from assistant.understand.told.others import (
    choice_parts,
    other_parts,
    taken_back,
    timer_parts,
    without_timer,
)
from assistant.understand.told.part import Part
from assistant.understand.told.progress import progress_parts
from assistant.understand.told.readings import reading_parts
from assistant.understand.told.signs import sign_parts
from assistant.understand.told.stance import FILE
from assistant.understand.told.store import store_parts
from assistant.understand.told.talk import LEVELS, Talk, talk_of
from assistant.understand.told.vague import cut_off, vague_parts
from assistant.understand.verdict import Question, Understood, ask, doubt, refuse, take

Judge = Callable[[Heard, Asked, datetime, Question | None], Understood]
"""Judges the grammars' own words: `assistant.understand.understand`."""
MOST_CANDIDATES = 3


def parts_of(text: str, asked: Asked, at: datetime) -> tuple[Part, ...]:
    """Everything that a sentence tells as a fact, all of it or a doubt."""
    talk = talk_of(text, asked, at)
    if not talk.clauses:
        return ()
    if pattern(FILE, "stance", "joke").search(talk.text):
        return tuple(taken_back(talk))
    for found in (cut_off(talk), note_parts(text, talk), alarm_parts(talk), sign_parts(talk)):
        if found:
            return tuple(found)
    for tells in (canning_parts, juice_parts, fruit_parts):
        if told := tells(talk):
            return tuple(told)
    if timers := timer_parts(talk):
        rest = without_timer(talk)
        return (*(() if timers[0].doubt else _read_or_done(rest)), *timers)
    for tells in (choice_parts, forecast_parts, bottle_parts, store_parts):
        if told := tells(talk):
            return tuple(told)
    return _read_or_done(talk) or tuple(other_parts(talk) or vague_parts(talk))


def _read_or_done(talk: Talk) -> tuple[Part, ...]:
    """Readings and progress, or the first doubt about them."""
    if not talk.clauses:
        return ()
    readings = reading_parts(talk)
    doubts = [part for part in readings if part.doubt]
    if doubts:
        return tuple(doubts[:1])
    levels = all(part.what in LEVELS for part in readings)
    kind = talk.asked.kind
    if not readings or kind in ("do", "rest") or (kind == "add" and levels):
        readings = [*progress_parts(talk), *readings]
    return tuple(readings)


def freely(
    heard: Heard, asked: Asked, at: datetime, pending: Question | None, judge: Judge
) -> Understood:
    """The verdict on an utterance that no grammar understood.

    asked, at, pending : as for `understand`; judge : `understand` itself
    """
    parts = parts_of(heard.text, asked, at)
    if not parts:
        return refuse("not_understood")
    if parts[0].doubt:
        return doubt(*parts[0].doubt, missing=parts[0].what)
    judged = [_judged(n, parts, heard, asked, at, pending, judge) for n in range(len(parts))]
    return _joined(parts, judged, spoken=heard.engine != "typed")


def _judged(
    n: int,
    parts: tuple[Part, ...],
    heard: Heard,
    asked: Asked,
    at: datetime,
    pending: Question | None,
    judge: Judge,
) -> Understood:
    part = parts[n]
    if part.events:
        return take(part.events)
    said = _as_said(n, parts, heard, asked, at)
    found = judge(said, asked, at, pending if len(parts) == 1 else None)
    return found.model_copy(update={"events": _heard_whole(found.events, heard.text)})


def _as_said(n: int, parts: tuple[Part, ...], heard: Heard, asked: Asked, at: datetime) -> Heard:
    """What was heard with this part in the grammars' words, each guess read by itself."""
    if heard.engine == "typed":
        return Heard.typed(" ".join(parts[n].words))
    first = tuple(g for guess in heard.guesses if (g := _told(guess, n, len(parts), asked, at)))
    second = tuple(g for guess in heard.second if (g := _told(guess, n, len(parts), asked, at)))
    text = " ".join(parts[n].words)
    changed = {"text": text, "guesses": first or (Guess(text=text, share=0.0),), "second": second}
    return heard.model_copy(update={**changed, "leads": None, "sound": None})


def _told(guess: Guess, n: int, many: int, asked: Asked, at: datetime) -> Guess | None:
    parts = parts_of(guess.text, asked, at)
    if len(parts) != many or not parts[n].words:
        return None
    return Guess(text=" ".join(parts[n].words), share=guess.share)


def _heard_whole(events: tuple[AnyEvent, ...], text: str) -> tuple[AnyEvent, ...]:
    """The events with the whole sentence as what was heard."""
    return tuple(e.model_copy(update={"heard": text}) for e in events)


def _joined(parts: tuple[Part, ...], judged: list[Understood], spoken: bool) -> Understood:
    """All of it taken, or all of it asked, never one half."""
    if any(one.verdict == "refuse" for one in judged):
        return next(one for one in judged if one.verdict == "refuse")
    if len(judged) == 1 and judged[0].verdict == "ask":
        return judged[0]
    sure = all(part.sure and not (spoken and part.events) for part in parts)
    if sure and all(one.verdict == "take" for one in judged):
        return take(one_bottling(tuple(chain.from_iterable(one.events for one in judged))))
    if all(isinstance(e, Sign) for one in judged for e in one.events) and judged[0].events:
        return take(judged[0].events) if len(judged) == 1 and parts[0].sure else _asked(judged)
    return _asked(judged)


def _asked(judged: list[Understood]) -> Understood:
    ways = [one.question.candidates if one.question else (one.events,) for one in judged]
    told = (tuple(chain.from_iterable(way)) for way in product(*ways))
    whole = [one_bottling(events) for events in told][:MOST_CANDIDATES]
    reasons = [one.question.reason for one in judged if one.question]
    return ask(reasons[0] if reasons else "unsure", *whole)
