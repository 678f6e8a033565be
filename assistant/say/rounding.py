"""How finely an amount is told: what kitchen scales, jugs, spoons and clocks can follow.

An exact quantity (a reading read back) keeps its digits. The others are rounded to the nearest
step, except where the unit itself tells which side is stricter: pH goes up, seconds to hours go
up (wait longer), days go down (keep shorter).
"""

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from typing import NamedTuple

from assistant.base.errors import OutOfRange
from assistant.base.units import Unit, dimension
from assistant.cook.reply import Quantity

LARGEST = 1e9
"""Amounts beyond this, either way, are refused: no kitchen has them."""


class Part(NamedTuple):
    """One number with its unit; "3 lb 4 oz" has two of them."""

    number: Decimal
    unit: Unit


Steps = tuple[tuple[str, str], ...]
"""(from this size up, rounded to this), the largest size first."""

_SCALES: Steps = (("200", "5"), ("20", "1"), ("0", "0.1"))
_SPOONS: Steps = (("1", "0.25"), ("0", "0.125"))
_STEPS: dict[str, Steps] = {
    "g": _SCALES,
    "ml": _SCALES,
    "kg": (("0", "0.01"),),
    "l": (("0", "0.01"),),
    "mg": (("0", "1"),),
    "oz": (("16", "0.5"), ("0", "0.1")),
    "fl_oz": (("0", "0.1"),),
    "pint": (("0", "0.1"),),
    "tsp": _SPOONS,
    "tbsp": _SPOONS,
    "cup": _SPOONS,
    "degC": (("0", "0.5"),),
    "degF": (("0", "1"),),
    "g/l": (("10", "0.1"), ("0", "0.01")),
    "g/kg": (("10", "0.1"), ("0", "0.01")),
    "ppm": (("0", "1"),),
    "%": (("0", "0.01"),),
    "pH": (("0", "0.01"),),
    "Brix": (("0", "0.1"),),
    "count": (("0", "1"),),
    "day": (("0", "1"),),
}
_COARSE: dict[str, Steps] = {"Brix": (("0", "1"),), "degC": (("0", "1"),)}
"""Taken instead where the spread is two or more wide: "about 61 Brix, 58 to 64"."""

_TOWARDS = {"pH": ROUND_CEILING, "day": ROUND_FLOOR}
_MAY_BE_NOTHING = ("temperature", "pH", "count", "time")
_IN_GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "mg": Decimal("0.001")}
_IN_ML = {"ml": 1, "cl": 10, "l": 1000}
_IN_SECONDS = {"s": 1, "min": 60, "h": 3600}


def parts(quantity: Quantity) -> tuple[Part, ...]:
    """A quantity as it is to be told, the spread left aside; OutOfRange for what is no amount.

    >>> parts(Quantity(value=1097.3, unit="g"))
    (Part(number=Decimal('1.1'), unit='kg'),)
    >>> parts(Quantity(value=1097.3, unit="g", exact=True))
    (Part(number=Decimal('1097.3'), unit='g'),)
    """
    if quantity.exact:
        return _as_given(_clean(quantity.value, quantity.unit, digits=12), quantity.unit)
    steps = _COARSE.get(quantity.unit) if _width(quantity) >= 2 else None
    return _told(_clean(quantity.value, quantity.unit), quantity.unit, steps)


def ends(quantity: Quantity) -> tuple[tuple[Part, ...] | None, tuple[Part, ...] | None]:
    """The ends of the spread, rounded outwards; None for an end that is not known.

    Both are None when the spread is finer than the amount is told.
    """
    unit, low, high = quantity.unit, quantity.low, quantity.high
    steps = _COARSE.get(unit) if _width(quantity) >= 2 else None
    given = [end for end in (low, high) if end is not None]
    if all(_told(_clean(end, unit), unit, steps) == parts(quantity) for end in given):
        return None, None
    return (
        _end(low, unit, steps, ROUND_FLOOR),
        _end(high, unit, steps, ROUND_CEILING),
    )


def _end(value: float | None, unit: Unit, steps: Steps | None, way: str) -> tuple[Part, ...] | None:
    return None if value is None else _told(_clean(value, unit), unit, steps, way)


def _width(quantity: Quantity) -> float:
    if quantity.low is None or quantity.high is None:
        return 0.0
    return quantity.high - quantity.low


def _clean(value: float, unit: str, digits: int = 9) -> Decimal:
    """The value without the noise that binary arithmetic leaves in the last places."""
    if not math.isfinite(value) or abs(value) > LARGEST:
        raise OutOfRange("an amount to be said", value, -LARGEST, LARGEST, unit)
    return _plain(Context(prec=digits).create_decimal_from_float(value))


def _plain(number: Decimal) -> Decimal:
    """Without trailing zeros, exponent or minus zero."""
    number = number.normalize() if number else Decimal(0)
    return number.quantize(Decimal(1)) if number == number.to_integral_value() else number


def _as_given(value: Decimal, unit: Unit) -> tuple[Part, ...]:
    if unit == "lb" and value >= 1 and value * 16 == (value * 16).to_integral_value():
        return _pounds(value * 16)
    if unit == "s" and value >= 120 and value == value.to_integral_value():
        return _hands(value)
    return (Part(value, unit),)


def _told(
    value: Decimal, unit: Unit, steps: Steps | None = None, way: str | None = None
) -> tuple[Part, ...]:
    if unit in _IN_GRAMS:
        return (_metric(value * _IN_GRAMS[unit], "g", "kg", way),)
    if unit in _IN_ML:
        return (_metric(value * _IN_ML[unit], "ml", "l", way),)
    if unit in _IN_SECONDS:
        return _clock(value * _IN_SECONDS[unit], way or ROUND_CEILING)
    if unit == "day" and abs(value) < 1:
        return _clock(value * 86400, way or ROUND_FLOOR)
    if unit in ("lb", "oz"):
        return _pounds(_rounded(value * (16 if unit == "lb" else 1), "oz", way=way))
    return (Part(_rounded(value, unit, steps, way), unit),)


def _metric(value: Decimal, small: Unit, big: Unit, way: str | None) -> Part:
    if small == "g" and 0 < abs(value) < Decimal("0.1"):
        return Part(_rounded(value * 1000, "mg", way=way), "mg")
    number = _rounded(value, small, way=way)
    if abs(number) < 1000:
        return Part(number, small)
    return Part(_rounded(value / 1000, big, way=way), big)


def _pounds(ounces: Decimal) -> tuple[Part, ...]:
    if abs(ounces) < 16:
        return (Part(_plain(ounces), "oz"),)
    pounds, rest = divmod(ounces, 16)
    found = (Part(_plain(pounds), "lb"), Part(_plain(abs(rest)), "oz"))
    return found if rest else found[:1]


def _clock(seconds: Decimal, way: str) -> tuple[Part, ...]:
    size = abs(seconds)
    if size < 60:
        total = _to_step(seconds, Decimal(1), way)
    elif size < 600:
        total = _to_step(seconds, Decimal(5), way)
    elif size < 72 * 3600:
        total = _to_step(seconds, Decimal(60), way)
    else:
        return (Part(_to_step(seconds / 86400, Decimal(1), way), "day"),)
    return _hands(total)


def _hands(seconds: Decimal) -> tuple[Part, ...]:
    """Whole seconds as hours, minutes and seconds, those that are nought left out."""
    sign = -1 if seconds < 0 else 1
    minutes, rest = divmod(abs(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    shares: tuple[tuple[Decimal, Unit], ...] = ((hours, "h"), (minutes, "min"), (rest, "s"))
    found = [Part(_plain(number), unit) for number, unit in shares if number]
    if not found:
        return (Part(Decimal(0), "s"),)
    return (Part(sign * found[0].number, found[0].unit), *found[1:])


def _rounded(
    value: Decimal, unit: Unit, steps: Steps | None = None, way: str | None = None
) -> Decimal:
    sizes = steps or _STEPS[unit]
    step = next(Decimal(step) for size, step in sizes if abs(value) >= Decimal(size))
    way = way or _TOWARDS.get(unit, ROUND_HALF_UP)
    number = _to_step(value, step, way)
    if number or not value or dimension(unit) in _MAY_BE_NOTHING:
        return number
    return _plain(Context(prec=1, rounding=way).create_decimal(value))


def _to_step(value: Decimal, step: Decimal, way: str) -> Decimal:
    return _plain((value / step).quantize(Decimal(1), rounding=way) * step)
