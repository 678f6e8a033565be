"""Batches from a file are folded as if they had been typed: what can't be is refused or told."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from assistant.base.errors import WrongUse
from assistant.cook import begin, step
from assistant.cook.recipe_safety import faults
from assistant.cook.shipped import standing
from assistant.facts.events import AnyEvent, Begin, Reading

GRACE = timedelta(days=1)
"""Clocks across time zones differ by so much; what is later still has not happened."""
_NOT_TAKEN = ("too_odd", "beyond_reckoning")


def check(events: Sequence[AnyEvent], now: datetime) -> None:
    """WrongUse for a batch with events that have not happened yet, or a recipe with claims."""
    first = events[0]
    if not isinstance(first, Begin):
        raise WrongUse("A batch starts with its beginning.")
    late = next((event for event in events if event.at > now + GRACE), None)
    if late is not None:
        raise WrongUse(
            f"Batch {first.batch}: {late.kind} on {late.at:%d %B %Y} has not happened yet. Is a "
            "clock wrong, or was the file edited?"
        )
    recipe = begin(first)[0].recipe
    if standing(recipe) != "shipped" and (wrong := faults(recipe)):
        raise WrongUse(f"Batch {first.batch} has a recipe that is not taken: {' '.join(wrong)}")


def _named(event: AnyEvent) -> str:
    if isinstance(event, Reading):
        return f"{event.what} {event.value:g} {event.unit}"
    return event.kind


def told(events: Sequence[AnyEvent]) -> tuple[str, ...]:
    """What is to be said of a batch that is taken: an edited recipe, numbers that did not count."""
    first = events[0]
    assert isinstance(first, Begin)
    batch, _ = begin(first)
    said = []
    if standing(batch.recipe) == "edited":
        said.append(f"its recipe is not the {batch.recipe.name} that comes along")
    odd = []
    for event in events[1:]:
        batch, reply = step(batch, event)
        if any(line.id in _NOT_TAKEN for line in reply.lines):
            odd.append(_named(event))
    if odd:
        said.append(f"numbers that can't be were not counted: {', '.join(odd)}")
    return tuple(said)
