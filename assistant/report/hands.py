"""Whose hands a batch went through, as far as somebody gave a name."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from assistant.facts.events import AnyEvent, By


def hand_records(events: Sequence[AnyEvent]) -> list[dict[str, Any]]:
    """Who wrote how much of a batch, in the order in which they came to it."""
    return [
        {**by.named(), "readings": reads, "entries": total} for by, reads, total in _counted(events)
    ]


def hand_lines(events: Sequence[AnyEvent]) -> list[str]:
    """The same as lines; none where nobody ever gave a name."""
    return [
        f"  {by.words:24} {_many(reads, 'reading')}, {_many(total - reads, 'other entry')}"
        for by, reads, total in _counted(events)
    ]


def _counted(events: Sequence[AnyEvent]) -> list[tuple[By, int, int]]:
    total = Counter(event.by for event in events if event.by is not None)
    reads = Counter(event.by for event in events if event.kind in ("reading", "correct"))
    return [(by, reads[by], many) for by, many in total.items() if by is not None]


def _many(count: int, one: str) -> str:
    more = f"{one[:-1]}ies" if one.endswith("y") else f"{one}s"
    return f"{count} {one if count == 1 else more}"
