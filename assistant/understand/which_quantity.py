"""A number without its unit, or without its name, that may be another quantity than is asked for.

Who calls the thermometer while sugar is asked for means degrees, not grams: that is asked.
"""

import re

from assistant.base.units import dimension, to_base
from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import Correct, Reading
from assistant.understand.bounds import (
    COLDEST_CALLED,
    HOTTEST_CALLED,
    SOUREST,
    TAMEST,
    context,
    inside,
    number_in,
)
from assistant.understand.meant import Amount
from assistant.understand.resolve import Events, Moment

MOST_KILOS = 15.0
"""More fruit than this a small kitchen has seldom, so a bare number of kilos is asked about (common
practice, no source). [kg]"""
_COUNTED = ("bottles", "temperature")
_WITHOUT_NUMBER = ("do", "rest", "option", "")
"""Stages that ask for no number; temperature, pH and Brix are merely welcome there."""
_BY_SPOON = frozenset(("tsp", "tbsp", "cup"))
_PLACES = (10.0, 100.0)


def others(events: Events, said: Amount | None, moment: Moment) -> list[Events]:
    """What a number may mean as well, what it was taken for among it; [] where that is clear."""
    event = number_in(events)
    if isinstance(event, Correct):
        return _corrects(event, moment)
    if said is None or said.what is not None or moment.about is not None:
        return []
    if not isinstance(event, Reading) or event.what in _COUNTED:
        return []
    awaited = moment.asked.find(event.what)
    if awaited is None:
        return []
    if said.unit is not None:
        return [events] if _by_the_jug(event, awaited) else []
    return _bare(events, event, awaited, moment.asked)


def _corrects(event: Correct, moment: Moment) -> list[Events]:
    """ "Make that six" after a pH, while bottles are asked for: the pH, or what is asked for."""
    last = context(event, moment.asked)
    first = moment.asked.awaited[0] if moment.asked.awaited else None
    bare = event.what is None and event.unit is None and moment.about is None
    if not bare or last is None or first is None or last.what == first.what:
        return []
    if moment.asked.kind in _WITHOUT_NUMBER:
        return []
    if first.what in _COUNTED and not event.value.is_integer():
        return []
    unit = next((u for u in first.units if first.fits_plan(to_base(event.value, u))), None)
    if unit is None or not first.low <= to_base(event.value, unit) <= first.high:
        return []
    asked_for = Reading(
        at=event.at, heard=event.heard, what=first.what, value=event.value, unit=unit
    )
    named = event.model_copy(update={"what": last.what, "unit": last.units[0]})
    return [(named,), (asked_for,)]


def _by_the_jug(event: Reading, awaited: Awaited) -> bool:
    """A powder told in millilitres and not named: it may be the water once more."""
    given = {dimension(unit) for unit in awaited.units}
    return event.dimension == "volume" not in given and event.unit not in _BY_SPOON


def _bare(events: Events, event: Reading, awaited: Awaited, asked: Asked) -> list[Events]:
    warm = _as_degrees(events, event, asked)
    if event.what == "fruit":
        return [events, *warm] if event.unit == "kg" and event.value > MOST_KILOS else []
    weighed = _by_scale_or_jug(events, event, awaited, asked)
    if weighed:
        return weighed
    if awaited.planned is None:
        return [] if inside(event, asked) else _impossible(events, event, awaited, asked)
    sour = _as_ph(events, event, asked)
    if awaited.fits_plan(event.base):
        if sour and _STANDS.search(event.heard):
            return [events, *sour]
        return [events, *warm] if warm and _is_heated(asked) else []
    level = [*warm, *sour]
    return [*_shifted(events, event, awaited), *level, events] if level else []


def _impossible(events: Events, event: Reading, awaited: Awaited, asked: Asked) -> list[Events]:
    """At a pH, "44": the thermometer's, or 4.4."""
    warm = _as_degrees(events, event, asked)
    heated = warm and _is_heated(asked)
    return [*warm, *_shifted(events, event, awaited)] if heated else []


def _as_degrees(events: Events, event: Reading, asked: Asked) -> list[Events]:
    if asked.find("temperature") is None or not COLDEST_CALLED <= event.value <= HOTTEST_CALLED:
        return []
    degrees = event.model_copy(update={"what": "temperature", "unit": "degC"})
    return [tuple(degrees if e is event else e for e in events)]


_SCALES = {"l": "kg", "ml": "g", "kg": "l", "g": "ml"}


def _by_scale_or_jug(
    events: Events, event: Reading, awaited: Awaited, asked: Asked
) -> list[Events]:
    """2.9 litres are not 2.9 kilos: asked, where the recipe lets the cook measure or weigh."""
    other = _SCALES.get(event.unit)
    if asked.kind != "measure" or other not in awaited.units or not _EITHER.search(asked.says):
        return []
    if not awaited.low <= event.base <= awaited.high or not awaited.fits_plan(event.base):
        return []
    moved = event.model_copy(update={"unit": other})
    return [events, tuple(moved if e is event else e for e in events)]


_EITHER = re.compile(r"\bmeasure or weigh\b", re.I)
_STANDS = re.compile(r"\bnow\b|\b(reads?|reading|shows?|showing)\b|^(it's|it is) ", re.I)
"""What stands at a number is read off; what went in is not told so."""


def _as_ph(events: Events, event: Reading, asked: Asked) -> list[Events]:
    """A broken number while something is put in may be the meter's."""
    whole = event.value.is_integer() or not SOUREST <= event.value <= TAMEST
    if asked.kind != "add" or whole or asked.find("ph") is None:
        return []
    sour = event.model_copy(update={"what": "ph", "unit": "pH"})
    return [tuple(sour if e is event else e for e in events)]


def _is_heated(asked: Asked) -> bool:
    """Whether a thermometer has been called in this batch."""
    warm = asked.find("temperature")
    return warm is not None and warm.last is not None


def _shifted(events: Events, event: Reading, awaited: Awaited) -> list[Events]:
    """The same with a point that was lost, where that is what is asked for."""
    for places in _PLACES:
        moved = event.model_copy(update={"value": round(event.value / places, 6)})
        possible = awaited.low <= moved.base <= awaited.high
        if possible and awaited.fits_plan(moved.base):
            return [tuple(moved if e is event else e for e in events)]
    return []
