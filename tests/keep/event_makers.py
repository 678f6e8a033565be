"""Events for tests: a whole small batch, and any event at all."""

from datetime import UTC, datetime, timedelta, timezone
from typing import Any, get_args

from hypothesis import strategies as st

from assistant.base.units import UNITS
from assistant.facts import events as ev
from assistant.facts.events import AnyEvent, Begin, Reading

AT = datetime(2026, 7, 4, 15, 0, tzinfo=timezone(timedelta(hours=2)))


def begin(batch: str = "2026-07-04-1", recipe: str = "blackcurrant") -> Begin:
    return Begin(at=AT, batch=batch, recipe={"name": recipe, "title": "Blackcurrant syrup"})


def reading(number: int) -> Reading:
    """The number-th reading of a batch: the juice warming up."""
    at = AT + timedelta(seconds=number)
    return Reading(
        at=at, what="temperature", value=20.1 + number, unit="degC", heard=f"reading {number}"
    )


def small_batch(batch: str = "2026-07-04-1", readings: int = 5) -> tuple[AnyEvent, ...]:
    return (begin(batch), *(reading(n) for n in range(1, readings + 1)))


_zones = st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m)))
_times = st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1), timezones=_zones | st.just(UTC))
_numbers = st.floats(allow_nan=False, allow_infinity=False)
_positive = st.floats(min_value=0, exclude_min=True, allow_infinity=False)
_text = st.text(max_size=20)
_scalars = st.none() | st.booleans() | st.integers(-(2**53), 2**53) | _numbers | _text
_json = st.dictionaries(
    _text, st.recursive(_scalars, lambda inner: st.lists(inner, max_size=3), max_leaves=5)
)


def _event(kind: type[Any], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.builds(kind, at=_times, heard=_text, sure=st.floats(0, 1), **fields)


_what = st.sampled_from(get_args(ev.What))
_unit = st.sampled_from(UNITS)
begins = _event(ev.Begin, batch=st.text(min_size=1, max_size=10), recipe=_json)
any_event = st.one_of(
    _event(ev.Reading, what=_what, value=_numbers, unit=_unit),
    _event(ev.Correct, value=_numbers, unit=st.none() | _unit, what=st.none() | _what),
    *(_event(k) for k in (ev.Onward, ev.SayAgain, ev.Undo, ev.Yes, ev.No, ev.Stop)),
    _event(ev.Ask, topic=st.sampled_from(get_args(ev.Topic)), about=st.none() | _text),
    _event(ev.TimerSet, seconds=_positive, name=st.none() | _text),
    _event(ev.TimerStop, name=st.none() | _text),
    _event(ev.Choose, option=_text, value=_text),
    _event(ev.Bottle, count=st.integers(1, 10**6), size_ml=st.none() | _positive),
    _event(ev.Discard, reason=_text),
    _event(ev.Note, text=_text),
    begins,
)
