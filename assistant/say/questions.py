"""Questions back to the cook, when a number was not surely heard: "Seventeen or seventy?"."""

from collections.abc import Sequence
from typing import Protocol

from assistant.cook.reply import Fact, Line, Quantity
from assistant.facts.events import (
    AnyEvent,
    Ask,
    Bottle,
    Choose,
    Correct,
    Discard,
    Moved,
    Note,
    Opened,
    Reading,
    Sign,
    TimerSet,
    Used,
)
from assistant.facts.stuff import OWN
from assistant.facts.vessels import UNKNOWN_SIZE, Vessel, words_of
from assistant.say.words import names, template

_WHICH = {2: "question.which_of_two", 3: "question.which_of_three"}
_PLACES = ("first", "second", "third")


class Question(Protocol):
    """What the question needs to have; the understanding side's own type fits it.

    kind : "which" of the candidates, or "sure" about the only one
    """

    @property
    def kind(self) -> str: ...
    @property
    def candidates(self) -> tuple[tuple[AnyEvent, ...], ...]: ...
    @property
    def reason(self) -> str: ...


def question_line(question: Question) -> Line:
    """The line that asks the cook; at most three candidates are named.

    Readings that differ in the number alone are told by the number alone: "Seventeen or seventy?"
    """
    candidates = [c for c in question.candidates if c][: len(_PLACES)]
    if not candidates:
        return Line(id="question.again", rank="question")
    if question.kind == "sure" or len(candidates) == 1:
        return _asking("question.sure", candidates[:1])
    if question.reason == "wish":
        return _asking(_wish(candidates[0][0]), candidates)
    return _numbers(candidates) or _asking(_WHICH[len(candidates)], candidates)


def _wish(first: AnyEvent) -> str:
    """The question whether a number puts a reading right, is one, or is wished for."""
    match first:
        case Correct():
            return "question.wish_right"
        case Reading():
            return "question.wish_read"
        case _:
            return "question.wish_which"


def doubt_line(doubt: str, facts: Sequence[tuple[str, str]]) -> Line:
    """The line that asks for what is missing in something told, by its code."""
    return Line(id=f"told.{doubt}", rank="question", facts=dict(facts))


def _numbers(candidates: Sequence[tuple[AnyEvent, ...]]) -> Line | None:
    """The question by bare numbers, where nothing else tells the candidates apart."""
    values: list[float] = []
    others = set()
    for candidate in candidates:
        event = candidate[0]
        if len(candidate) > 1 or not isinstance(event, Reading | Correct):
            return None
        values.append(event.value)
        others.add((event.kind, event.what, event.unit))
    if len(others) > 1 or len(set(values)) < len(values):
        return None
    facts: dict[str, Fact] = {
        place: Quantity(value=value, unit="count", exact=True)
        for place, value in zip(_PLACES, values, strict=False)
    }
    return Line(id=_WHICH[len(values)], rank="question", facts=facts)


def events_line(events: Sequence[AnyEvent]) -> Line:
    """What was understood, told in a few words, for showing.

    >>> from datetime import UTC, datetime
    >>> from assistant.facts.events import Yes
    >>> events_line([Yes(at=datetime(2026, 7, 4, tzinfo=UTC))]).text
    'yes'
    """
    facts: dict[str, Fact] = {}
    told = []
    for number, event in enumerate(events):
        words, known = _describe(event)
        told.append(_renamed(words, f"event_{number}"))
        facts |= {f"event_{number}_{name}": fact for name, fact in known.items()}
    return Line(id="understood", rank="read_back", facts=facts, text=", ".join(told))


def _asking(line_id: str, candidates: Sequence[tuple[AnyEvent, ...]]) -> Line:
    """The question with each candidate told whole: its events' words stand in for the facts."""
    words = template(line_id)
    facts: dict[str, Fact] = {}
    for place, candidate in zip(_PLACES, candidates, strict=False):
        told = []
        for number, event in enumerate(candidate):
            event_words, event_facts = _describe(event)
            mark = f"{place}_{number}"
            told.append(_renamed(event_words, mark))
            facts |= {f"{mark}_{name}": fact for name, fact in event_facts.items()}
        words = words.replace(f"{{{place}}}", " and ".join(told))
    return Line(id=line_id, rank="question", facts=facts, text=words)


def _renamed(words: str, mark: str) -> str:
    for name in names(words):
        for end in "|}":
            words = words.replace(f"{{{name}{end}", f"{{{mark}_{name}{end}")
    return words


def _describe(event: AnyEvent) -> tuple[str, dict[str, Fact]]:
    """An event's words and the facts in them."""
    match event:
        case Reading(parts=parts) if parts:
            return _fruit(event)
        case Reading():
            amount = Quantity(value=event.value, unit=event.unit, exact=True)
            return template(f"event.{event.what}"), {"amount": amount, **_thing(event)}
        case Correct():
            amount = Quantity(value=event.value, unit=event.unit or "count", exact=True)
            words = template(f"event.{event.what or event.kind}")
            if event.vessel is not None:
                return template("event.bottle_sized"), _vessels(round(event.value), event.vessel)
            return words, {"amount": amount, **_thing(event)}
        case TimerSet():
            return _timer(event)
        case Bottle():
            return _bottles(event)
        case Used() | Opened() | Moved() | Sign() | Discard():
            return _of_the_store(event)
        case Choose() | Note() | Ask():
            return _in_words(event)
        case _:
            return template(f"event.{event.kind}"), {}


def _in_words(event: Choose | Note | Ask) -> tuple[str, dict[str, Fact]]:
    match event:
        case Choose():
            return template("event.choose"), {"value": event.value}
        case Note():
            return template("event.note"), {"text": event.text}
        case Ask():
            return _question(event)


def _question(event: Ask) -> tuple[str, dict[str, Fact]]:
    """A question, with the number to get to where it has one."""
    target = next((one for one in event.given if one.name == "target"), None)
    if target is None:
        return template("event.ask"), {}
    amount = Quantity(value=target.value, unit=target.unit, exact=True)
    return template("event.ask_to"), {"amount": amount}


def _fruit(event: Reading) -> tuple[str, dict[str, Fact]]:
    """Each fruit with its weight, or how many of it."""
    told = []
    facts: dict[str, Fact] = {}
    for n, one in enumerate(event.parts):
        amount = Quantity(value=one.value, unit=one.unit, exact=True)
        own: dict[str, Fact] = {
            "amount": amount,
            "fruit": one.fruit.replace("-", " "),
            "count": round(one.value),
        }
        told.append(_renamed(template(f"event.fruit_{one.each or 'part'}"), f"fruit_{n}"))
        facts |= {f"fruit_{n}_{name}": fact for name, fact in own.items()}
    words = " and ".join(told)
    if event.more:
        words = template("event.fruit_more").replace("{parts}", words)
    return words, facts


def _thing(event: Reading | Correct) -> dict[str, Fact]:
    """Which of the recipe's own ingredients it is of, where it is of one."""
    if event.what != OWN:
        return {}
    return {"thing": event.of.replace("_", " ") or "the ingredient"}


def _of_the_store(
    event: Used | Opened | Moved | Sign | Discard,
) -> tuple[str, dict[str, Fact]]:
    vessel = None if isinstance(event, Sign) else event.vessel
    if vessel is not None:
        return _of_a_sort(event, vessel)
    match event:
        case Used(to=to) if to:
            return template("event.given"), {"count": event.count, "to": to}
        case Used() | Opened():
            return template(f"event.{event.kind}"), {"count": event.count}
        case Moved(count=int(count)):
            return template("event.moved_some"), {"count": count, "place": event.place}
        case Moved():
            return template("event.moved"), {"place": event.place}
        case Sign():
            return template("event.sign"), {"what": event.what.replace("_", " ")}
        case Discard(count=int(count)):
            return template("event.discard_some"), {"count": count}
        case Discard():
            return template("event.discard"), {}


def _of_a_sort(event: AnyEvent, vessel: Vessel) -> tuple[str, dict[str, Fact]]:
    """The same, where the sort of bottle was named."""
    match event:
        case Used(to=to) if to:
            return template("event.given_of"), {"to": to, **_vessels(event.count, vessel)}
        case Used() | Opened():
            return template(f"event.{event.kind}_of"), _vessels(event.count, vessel)
        case Moved(count=int(count)):
            return template("event.moved_some_of"), {
                "place": event.place,
                **_vessels(count, vessel),
            }
        case Moved():
            return template("event.moved_all_of"), {"place": event.place, **_vessels(0, vessel)}
        case Discard(count=int(count)):
            return template("event.discard_some_of"), _vessels(count, vessel)
        case _:
            return template("event.discard_all_of"), _vessels(0, vessel)


def _vessels(count: int, vessel: Vessel) -> dict[str, Fact]:
    inside = vessel.inside_ml
    size: Fact = UNKNOWN_SIZE if inside is None else Quantity(value=inside, unit="ml")
    return {"count": count, "vessels": words_of(vessel, count), "size": size}


def _timer(event: TimerSet) -> tuple[str, dict[str, Fact]]:
    facts: dict[str, Fact] = {"amount": Quantity(value=event.seconds, unit="s", exact=True)}
    if event.name is None:
        return template("event.timer_set"), facts
    return template("event.timer_named"), facts | {"name": event.name}


def _bottles(event: Bottle) -> tuple[str, dict[str, Fact]]:
    facts: dict[str, Fact] = {}
    words = []
    for n, lot in enumerate(event.lots):
        known = _vessels(lot.count, lot.vessel)
        told = "event.bottle_sized" if lot.size_ml is not None else "event.bottle"
        words.append(_renamed(template(told), f"{n}"))
        facts |= {f"{n}_{name}": fact for name, fact in known.items()}
    return _and().join(words), facts


def _and() -> str:
    return f" {template('event.and')} "
