"""The last things heard, with what was understood and answered: a replay of the journal."""

from collections.abc import Sequence
from datetime import datetime

from assistant.cook import Batch, begin, step
from assistant.cook.reply import joined
from assistant.facts.events import AnyEvent, Begin, Stop
from assistant.say import by_eye, events_line, shown
from assistant.screen.facts import Said

MOST = 12
"""So many are kept for the page."""


def replayed(events: Sequence[AnyEvent]) -> tuple[Batch, tuple[Said, ...]]:
    """The batch and the talk that made it, word for word as it was; the oldest first.

    Events of one utterance are told together. ValueError for a journal that does not start with
    Begin.
    """
    first = events[0] if events else None
    if not isinstance(first, Begin):
        raise ValueError("a journal starts with Begin")
    batch, _ = begin(first)
    found: list[Said] = []
    for group in _utterances(events[1:]):
        replies = []
        for event in group:
            batch, reply = step(batch, event)
            replies.append(reply)
        found.append(taken(group, tuple(shown(joined(replies)))))
    return batch, tuple(found[-MOST:])


def taken(group: Sequence[AnyEvent], answer: tuple[str, ...]) -> Said:
    """One utterance that was taken."""
    return Said(
        at=group[0].at,
        heard=group[0].heard,
        understood=by_eye(events_line(group)),
        answer=answer,
        verdict="take",
    )


def not_taken(
    at: datetime, heard: str, answer: tuple[str, ...], asked: bool, yes_no: bool = False
) -> Said:
    """One utterance that was asked back or not understood."""
    understood = "Not sure yet." if asked else "Not taken."
    return Said(
        at=at,
        heard=heard,
        understood=understood,
        answer=answer,
        verdict="ask" if asked else "refuse",
        yes_no=yes_no,
    )


def _utterances(events: Sequence[AnyEvent]) -> list[list[AnyEvent]]:
    """Events that came of the same words at the same moment; the end of a session is no talk."""
    groups: list[list[AnyEvent]] = []
    for event in events:
        if isinstance(event, Stop) and not event.heard:
            continue
        last = groups[-1][-1] if groups else None
        if last is not None and (last.at, last.heard) == (event.at, event.heard):
            groups[-1].append(event)
        else:
            groups.append([event])
    return groups
