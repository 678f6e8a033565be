"""From what the words mean to events, by what the cook is being asked."""

from dataclasses import dataclass
from datetime import datetime
from itertools import chain

from assistant.base.units import Unit, dimension, to_base
from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import (
    AnyEvent,
    Bottle,
    Choose,
    Correct,
    Opened,
    Reading,
    TimerSet,
    Used,
    What,
    event_adapter,
)
from assistant.facts.stuff import STUFF, natural
from assistant.understand.bounds import number_in
from assistant.understand.meant import Amended, Amount, Meant, Pick, Plain
from assistant.understand.told.elsewhere import done_elsewhere
from assistant.understand.verdict import Question, Refusal

_NATURAL = natural()
"""Units that say by themselves what is meant."""
_LARGE = frozenset(("kg", "lb", "oz", "l", "pint", "cup", "pH", "Brix", "g/l"))
"""Units in which "two fifty" can mean 2.50."""
_SIBLING: dict[Unit, Unit] = {
    "kg": "g", "g": "kg", "l": "ml", "ml": "l", "lb": "oz", "oz": "lb",
    "degC": "degF", "degF": "degC",
}  # fmt: skip
"""The other unit that a bare number may have been meant in."""

Events = tuple[AnyEvent, ...]


@dataclass(frozen=True)
class Moment:
    """What resolving needs to know: what is asked, when, the question that is open."""

    asked: Asked
    at: datetime
    heard: str = ""
    pending: Question | None = None

    @property
    def about(self) -> AnyEvent | None:
        """The event with a number that the open question is about."""
        if self.pending is None or not self.pending.candidates:
            return None
        return number_in(self.pending.candidates[0])


def resolve(meant: Meant, moment: Moment) -> Events | Refusal:
    """The events, or the reason why there are none now."""
    match meant:
        case Amount():
            return _reading(meant, moment)
        case Amended(amount):
            return _amendment(amount, moment)
        case Pick(which):
            return _pick(which, moment.pending)
        case Plain(kind, fields):
            return _plain(kind, dict(fields), moment)


def focused(asked: Asked, pending: Question | None) -> Asked:
    """What is asked, with the quantity of an open question first: bare numbers answer it."""
    event = Moment(asked, datetime.min, pending=pending).about
    if not isinstance(event, Reading | Correct) or event.what is None:
        return asked
    first = asked.find(event.what) or Awaited(
        what=event.what, units=(event.unit or "count",), low=float("-inf"), high=float("inf")
    )
    if event.unit and event.unit != first.units[0]:
        units = (event.unit, *(u for u in first.units if u != event.unit))
        first = first.model_copy(update={"units": units})
    rest = tuple(a for a in asked.awaited if a.what != event.what)
    return asked.model_copy(update={"awaited": (first, *rest)})


def _reading(amount: Amount, moment: Moment) -> Events | Refusal:
    if amount.what is None and amount.unit is None:
        about = moment.about
        if about is not None and not (isinstance(about, Reading | Correct) and about.what):
            return _like(about, amount, moment)
    what = amount.what or _what_of(amount.unit, moment.asked)
    if what is None:
        return "not_now"
    awaited = moment.asked.find(what)
    unit = amount.unit or (usual_unit(awaited, amount) if awaited else _only_unit(what))
    if unit is None or (amount.short and unit not in _LARGE):
        return "not_now"
    if awaited and not _takes(awaited, unit):
        return "wrong_unit"
    reading = Reading(
        at=moment.at, heard=moment.heard, what=what, value=float(amount.value), unit=unit
    )
    return (*_fruit(amount, moment), reading)


def usual_unit(awaited: Awaited, amount: Amount) -> Unit:
    """The unit of a number without one: by the plan's size where there is one, else the first."""
    first = awaited.units[0]
    if awaited.planned is None or amount.short:
        return first
    units = (first, _SIBLING.get(first, first))
    fitting = (u for u in units if awaited.fits_plan(to_base(float(amount.value), u)))
    return next(fitting, first)


def _like(about: AnyEvent, amount: Amount, moment: Moment) -> Events | Refusal:
    """A bare number while a timer, a count of bottles or a correction is in question."""
    if amount.short:
        return "not_now"
    value, stamp = float(amount.value), {"at": moment.at, "heard": moment.heard}
    match about:
        case Correct():
            return (about.model_copy(update=stamp | {"value": value}),)
        case Bottle() | Used() | Opened() if amount.value.denominator == 1 and value > 0:
            return (about.model_copy(update=stamp | {"count": int(value)}),)
        case TimerSet() if value > 0:
            unit = next(u for u in (3600, 60, 1) if about.seconds % u == 0 or u == 1)
            return (about.model_copy(update=stamp | {"seconds": value * unit}),)
    return "not_now"


def in_other_unit(meant: Meant, events: Events, moment: Moment) -> Events | None:
    """A bare number in the sibling of its unit: "four eighty" where kilos come first."""
    event = number_in(events)
    if not (isinstance(meant, Amount) and isinstance(event, Reading)) or meant.short:
        return None
    awaited = moment.asked.find(event.what)
    other = _SIBLING.get(event.unit)
    if meant.unit is not None or awaited is None or other not in awaited.units:
        return None
    return tuple(e.model_copy(update={"unit": other}) if e is event else e for e in events)


def _fruit(amount: Amount, moment: Moment) -> Events:
    if amount.fruit is None:
        return ()
    return (Choose(at=moment.at, heard=moment.heard, option="fruit", value=amount.fruit),)


def _what_of(unit: Unit | None, asked: Asked) -> What | None:
    """Whose number it is: the first awaited that takes the unit, or its dimension, or its kind."""
    if unit is None:
        return asked.awaited[0].what if asked.awaited else None
    named = (a.what for a in asked.awaited if unit in a.units)
    near = (a.what for a in asked.awaited if dimension(unit) in map(dimension, a.units))
    told = (a.what for a in asked.awaited if _takes(a, unit))
    return next(chain(named, near, told), _NATURAL.get(dimension(unit)))


def _only_unit(what: What) -> Unit | None:
    """The unit of what is only ever given in one kind of unit, and is known by it."""
    row = STUFF[what]
    kinds = {dimension(unit) for unit in row.units}
    return row.units[0] if row.natural and len(kinds) == 1 else None


def _takes(awaited: Awaited, unit: Unit) -> bool:
    """Whether the quantity may be given in the unit: by those asked for, or as people do."""
    kinds = {dimension(u) for u in awaited.units} | STUFF[awaited.what].takes
    return dimension(unit) in kinds


def _amendment(amount: Amount, moment: Moment) -> Events | Refusal:
    """A correction; while a question about a number is open, the right answer to it."""
    if moment.about is not None:
        return _reading(amount, moment)
    if amount.short:
        return "not_now"
    return (
        Correct(
            at=moment.at,
            heard=moment.heard,
            value=float(amount.value),
            unit=amount.unit,
            what=amount.what,
            of=(amount.fruit or "") if moment.asked.mixture else "",
        ),
    )


def _pick(which: int, pending: Question | None) -> Events | Refusal:
    if pending is None or pending.kind != "which":
        return "not_now"
    index = which - 1 if which > 0 else which
    if not -len(pending.candidates) <= index < len(pending.candidates):
        return "not_now"
    return pending.candidates[index]


def _plain(kind: str, fields: dict[str, object], moment: Moment) -> Events | Refusal:
    if kind in ("yes", "no") and not (moment.asked.yes_no or moment.pending):
        return "nothing_asked"
    stamp = {"kind": kind, "at": moment.at, "heard": moment.heard}
    if kind == "onward":
        named = str(fields.pop("named", ""))
        if done_elsewhere(named, moment.asked):
            return "not_now"
    if kind == "begin":
        fruit = fields.get("fruit")
        begin = event_adapter.validate_python(stamp | {"batch": "", "recipe": {}})
        if fruit is None:
            return (begin,)
        choose = Choose(at=moment.at, heard=moment.heard, option="fruit", value=str(fruit))
        return (begin, choose)
    return (event_adapter.validate_python(stamp | fields),)
