"""Dates that a kitchen's clock can show; others come from a file that somebody made or spoilt."""

from assistant.facts.events import AnyEvent

_YEARS = range(1970, 2500)
"""A clock that was never set shows 1970; reckoning with days ends at the year 9999."""


def is_dated(event: AnyEvent) -> bool:
    """Whether a clock can have shown the event's time."""
    return event.at.year in _YEARS


def misdated(event: AnyEvent) -> str:
    """What is wrong with its time, as the end of a sentence."""
    return f"is dated {event.at:%Y-%m-%d}, which no kitchen's clock shows"
