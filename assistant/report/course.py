"""How a batch went: its stages with their times, and where it left the plan."""

from collections.abc import Iterable
from typing import Any

from assistant.facts.stuff import stuff_words
from assistant.planning.differences import Difference
from assistant.planning.replay import Stay
from assistant.report.told import ends, told, told_spread

_CALLED = {"hold": "hold counted", "bottled": "syrup bottled"}
"""What is neither measured nor put in."""


def stay_records(stays: Iterable[Stay]) -> list[dict[str, Any]]:
    """Stages as plain objects."""
    return [
        {
            "stage": stay.stage,
            "entered": stay.entered_at.isoformat(),
            "left": stay.left_at.isoformat() if stay.left_at else None,
            "seconds": stay.seconds,
        }
        for stay in stays
    ]


def stay_lines(stays: Iterable[Stay]) -> list[str]:
    """Stages as lines: when the batch came there, and how long it stayed."""
    rows = []
    for stay in stays:
        long = "still there" if stay.seconds is None else _lasted(stay.seconds)
        rows.append(f"  {stay.entered_at:%H:%M:%S}  {stay.stage:14} {long:>12}")
    return rows or ["  none"]


def _lasted(seconds: float) -> str:
    return told(round(seconds), "s") if seconds >= 1 else "at once"


def difference_records(found: Iterable[Difference]) -> list[dict[str, Any]]:
    """Planned and got as plain objects."""
    return [
        {
            "what": one.name,
            "planned": ends(one.planned, 3),
            "got": round(one.got, 3),
            "unit": one.unit,
            "off_plan": one.off,
        }
        for one in found
    ]


def difference_lines(found: Iterable[Difference]) -> list[str]:
    """Planned and got as lines; what is worth a word is marked."""
    rows = [f"  {called(one):24} {_both(one)}{'   off plan' if one.off else ''}" for one in found]
    return rows or ["  nothing to compare yet"]


def called(one: Difference) -> str:
    """What a difference is about."""
    return _CALLED.get(one.name) or stuff_words(one.name)


def _both(one: Difference) -> str:
    if one.kind == "ph":
        return f"{one.got:g}, aimed at {one.planned.low:g} to {one.planned.high:g}"
    planned = told_spread(one.planned, one.unit)
    return f"{told(one.got, one.unit):>9}, planned {planned}"
