"""Of which size were they? Asked where bottles of several sorts are left and nobody said."""

from collections.abc import Sequence
from typing import Final, Literal

from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Correct, Discard, Moved, Opened, Used
from assistant.facts.vessels import Vessel
from assistant.hear.heard import Heard
from assistant.understand import Question, Understood
from assistant.understand.told.clauses import clauses
from assistant.understand.told.found import strangers
from assistant.understand.told.of_sort import of_sort
from assistant.understand.verdict import take

REASON: Final = "which_sort"
_FEW = 7
"""Words in which a size is named; more are talk (common practice, no source)."""


def of_which_sort(found: Understood, heard: Heard, asked: Asked) -> Understood | None:
    """The question which of several sorts is meant, where what was understood leaves that open.

    Of several deeds of which one can't be, only that one is handed on, so that none counts.
    """
    events = _understood(found)
    if len(asked.sorts) > 1 and found.verdict == "take":
        moved = _all_of_a_kind(events, heard, asked)
        beyond = [event for event in events if _is_too_many(event, dict(asked.sorts))]
        if moved or (beyond and len(events) > 1):
            return take(moved or (beyond[0],))
    open_ = [event for event in events if _is_open(event)]
    if len(open_) != 1 or len(asked.sorts) < 2:
        return None
    ways = [_with(events, open_[0], vessel) for vessel in _can_be(open_[0], heard, asked)]
    if len(ways) == 1 and found.verdict == "take":
        return take(ways[0])
    kind: Literal["sure", "which"] = "sure" if len(ways) == 1 else "which"
    question = Question(kind=kind, candidates=tuple(ways), reason=REASON)
    return Understood(verdict="ask", question=question, reason=REASON)


def _all_of_a_kind(events: Sequence[AnyEvent], heard: Heard, asked: Asked) -> tuple[AnyEvent, ...]:
    """ "Put the bottles in the freezer" leaves the jars where they are; () for anything else."""
    match events:
        case (Moved(count=None, vessel=None) as moved,):
            named = _named(heard.text, asked)
            there = [v for v in named if dict(asked.sorts)[v]]
            return tuple(moved.model_copy(update={"vessel": vessel}) for vessel in there)
        case _:
            return ()


def _is_too_many(event: AnyEvent, left: dict[Vessel, int]) -> bool:
    """Whether it takes more of its sort than there are."""
    if not isinstance(event, Used | Opened | Moved | Discard) or event.vessel is None:
        return False
    fitting = [count for vessel, count in left.items() if _is_of(vessel, event.vessel)]
    return bool(fitting) and _count(event) > max(fitting)


def _is_of(vessel: Vessel, told: Vessel) -> bool:
    return (vessel.size_ml, vessel.of) == (told.size_ml, told.of) and (
        vessel.holds_ml == told.holds_ml
    )


def _understood(found: Understood) -> tuple[AnyEvent, ...]:
    """What was taken, or is asked about as the only thing that it can be."""
    if found.verdict == "take":
        return found.events
    asks = found.question.candidates if found.verdict == "ask" and found.question else ()
    return asks[0] if len(asks) == 1 else ()


def picked_sort(pending: Question | None, heard: Heard, asked: Asked) -> Understood | None:
    """The answer to it: "the half litres", "330", "the small ones"."""
    if pending is None or pending.reason != REASON or len(heard.text.split()) > _FEW:
        return None
    offered = {_of(candidate) for candidate in pending.candidates}
    left = tuple(pair for pair in asked.sorts if pair[0] in offered)
    asked = asked.model_copy(update={"sorts": left})
    vessels = _named(heard.text, asked)
    if len(vessels) != 1 or (heard.engine != "typed" and _talks(heard.text, asked)):
        return None
    return next((take(c) for c in pending.candidates if _of(c) == vessels[0]), None)


def _talks(text: str, asked: Asked) -> bool:
    """Whether more is said than the size: it may be for somebody else."""
    found = [(each, of_sort(each.words, asked)) for each in clauses(text)]
    return any(strangers(each, (), ()) > named.said for each, named in found)


def _is_open(event: AnyEvent) -> bool:
    match event:
        case Used() | Opened():
            return _unnamed(event.vessel)
        case Moved(count=int()) | Discard(count=int()):
            return _unnamed(event.vessel)
        case Correct(what="bottles"):
            return event.vessel is None
        case _:
            return False


def _unnamed(vessel: Vessel | None) -> bool:
    return vessel is None or vessel.size_ml is None


def _can_be(event: AnyEvent, heard: Heard, asked: Asked) -> list[Vessel]:
    """The sorts that it can be of: such as were named, of which there are enough."""
    told = getattr(event, "vessel", None)
    named = _named(heard.text, asked) or [vessel for vessel, _ in asked.sorts]
    fitting = [v for v in named if told is None or v.of == told.of] or named
    left = dict(asked.sorts)
    enough = [v for v in fitting if isinstance(event, Correct) or left[v] >= _count(event)]
    return enough or fitting


def _count(event: AnyEvent) -> int:
    return int(getattr(event, "count", None) or 1)


def _named(text: str, asked: Asked) -> list[Vessel]:
    """The sorts that a text names."""
    for clause in clauses(text):
        found = of_sort(clause.words, asked)
        if found.vessels:
            return list(found.vessels)
    return []


def _with(events: Sequence[AnyEvent], open_: AnyEvent, vessel: Vessel) -> tuple[AnyEvent, ...]:
    named = open_.model_copy(update={"vessel": vessel})
    return tuple(named if event is open_ else event for event in events)


def _of(events: Sequence[AnyEvent]) -> Vessel | None:
    """The sort that the events name."""
    return next((v for e in events if (v := getattr(e, "vessel", None)) is not None), None)
