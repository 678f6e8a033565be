"""What a number can be here: within the stage's bounds, and reachable since the last reading."""

import math
from datetime import datetime

from assistant.base.units import dimension, to_base
from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import AnyEvent, Bottle, Correct, Opened, Reading, TimerSet, Used

FASTEST_HEATING = 3.0
"""Degrees a second. A 3 kW hob heats half a litre of juice (about 4 kJ/kg K) by 1.5; doubled
(common practice, no source)."""
FASTEST_COOLING = 80.0
"""Seconds in which the distance to freezing shrinks to 1/e: half a litre of juice (1.9 kJ/K) in a
stirred ice bath (0.06 m2, 400 W/m2 K). A batch is larger, so slower (common practice, no source).
"""
JUMP_SLACK = 10.0
"""Degrees that two readings may differ at once: another spot in the pan, a cold spoonful
(common practice, no source)."""
ABSOLUTE_ZERO = -273.15
LONGEST_ODD_TIMER = 3 * 3600.0
"""Longer ones are set in whole hours: "746 minutes" was a misheard "a forty six minute" (common
practice, no source). [s]"""
COLDEST_CALLED, HOTTEST_CALLED = 20.0, 105.0
"""What is called out of a thermometer in a pan (common practice, no source). [degC]"""
SOUREST, TAMEST = 2.0, 5.0
"""What a meter shows in a sour syrup or juice, past the limit of 4.6 too (common practice, no
source). [pH]"""

Numeric = Reading | Correct | Bottle | TimerSet | Used | Opened


def number_in(events: tuple[AnyEvent, ...]) -> Numeric | None:
    """The event among them that carries a number, if there is one."""
    return next((e for e in reversed(events) if isinstance(e, Numeric)), None)


def context(event: AnyEvent, asked: Asked) -> Awaited | None:
    """The awaited reading an event is to be judged by; for a bare correction, the latest read."""
    if isinstance(event, Bottle):
        return asked.find("bottles")
    if not isinstance(event, Reading | Correct):
        return None
    found = asked.find(event.what) if event.what else _latest(asked)
    if found and event.unit and dimension(event.unit) != dimension(found.units[0]):
        return None
    return found


def _latest(asked: Asked) -> Awaited | None:
    read = [(a.last_at, a) for a in asked.awaited if a.last_at is not None]
    return max(read, key=lambda pair: pair[0])[1] if read else None


def base_value(event: AnyEvent, awaited: Awaited | None) -> float | None:
    """The event's number in its base unit, None when it has none or the unit is unknown."""
    if isinstance(event, Reading):
        return event.base
    if isinstance(event, Bottle):
        return float(event.count)
    if isinstance(event, Correct):
        unit = event.unit or (awaited.units[0] if awaited else None)
        return to_base(event.value, unit) if unit else None
    return None


def absurd(event: AnyEvent) -> bool:
    """Whether no stage in any kitchen could have this number."""
    if not isinstance(event, Reading | Correct) or event.unit is None:
        return False
    match dimension(event.unit):
        case "temperature":
            return to_base(event.value, event.unit) < ABSOLUTE_ZERO
        case "pH":
            return not 0.0 <= event.value <= 14.0
        case "Brix":
            return not 0.0 <= event.value <= 100.0
        case _:
            return event.value < 0.0


def inside(event: AnyEvent, asked: Asked) -> bool:
    """Whether the number lies within the bounds of what is awaited (True where there are none)."""
    awaited = context(event, asked)
    value = base_value(event, awaited)
    if absurd(event) or _odd_timer(event):
        return False
    return awaited is None or value is None or awaited.low <= value <= awaited.high


def _odd_timer(event: AnyEvent) -> bool:
    if not isinstance(event, TimerSet):
        return False
    return event.seconds > LONGEST_ODD_TIMER and event.seconds % 3600 > 0


def reachable(event: AnyEvent, asked: Asked, at: datetime) -> bool:
    """Whether a pan could have got from the last temperature to this one in the time passed."""
    awaited = context(event, asked)
    if not isinstance(event, Reading) or event.dimension != "temperature" or awaited is None:
        return True
    if awaited.last is None or awaited.last_at is None:
        return True
    seconds = max(0.0, (at - awaited.last_at).total_seconds())
    return coldest(awaited.last, seconds) <= event.base <= hottest(awaited.last, seconds)


def hottest(last: float, seconds: float) -> float:
    """The most a pan may have reached [degC] from a reading [degC], so many seconds ago [s].

    >>> hottest(68.0, 10.0)
    108.0
    """
    return last + JUMP_SLACK + FASTEST_HEATING * seconds


def coldest(last: float, seconds: float) -> float:
    """The least it may have fallen to [degC]; no bound below freezing.

    >>> round(coldest(68.0, 10.0))
    50
    """
    return last * math.exp(-seconds / FASTEST_COOLING) - JUMP_SLACK if last > 0 else -math.inf


def plausible(events: tuple[AnyEvent, ...], asked: Asked, at: datetime) -> bool:
    """Whether the number in these events, if any, can be."""
    event = number_in(events)
    return event is None or (inside(event, asked) and reachable(event, asked, at))


def decides(event: AnyEvent, asked: Asked) -> bool:
    """Whether taking the number changes a safety decision: it lands across a deciding value.

    Without a last reading a value at or above the deciding one counts as across; for pH any value.
    """
    awaited = context(event, asked)
    value = base_value(event, awaited)
    if awaited is None or value is None:
        return False
    if awaited.confirm:
        return True
    if awaited.last is None:
        ph = dimension(awaited.units[0]) == "pH"
        return bool(awaited.decides) if ph else any(value >= bound for bound in awaited.decides)
    last = awaited.last
    return any((value >= bound) != (last >= bound) for bound in awaited.decides)
