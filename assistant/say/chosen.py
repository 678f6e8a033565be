"""The units in which somebody wants amounts shown: chosen once, for the eye only.

What is written down, said aloud and reckoned with stays as it was. The choice is a context of the
moment in which words are made, so that two pages may show one batch in two ways.
"""

import math
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Literal

from pydantic import BaseModel, ConfigDict

from assistant.base.units import Unit, dimension, to_base
from assistant.cook.reply import Fact, Quantity

GRAMS_BELOW_G = 100.0
"""Less than this is told in grams all the same: a tenth of an ounce is too coarse for acid and
preservatives (common practice, no source). [g]"""
_CUPS_FROM_ML, _TBSP_FROM_ML = 60.0, 15.0
"""A quarter of a cup, and a tablespoon: NIST, Cooking Measurement Equivalencies. [ml]"""
_ML = {"cup": 240.0, "tbsp": 15.0, "tsp": 5.0, "fl_oz": 29.5735295625}
"""Kitchen measures as in the same; the fluid ounce is NIST Handbook 44, appendix C. [ml]"""
_GRAMS_AN_OUNCE = 28.349523125
"""NIST Handbook 44, appendix C. [g]"""
_DEGREES = re.compile(r"\{(\w+)\|degree\|degrees\}")


class Chosen(BaseModel):
    """How somebody wants amounts shown."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    heat: Literal["degC", "degF"] = "degC"
    measure: Literal["metric", "us"] = "metric"


AS_SAID = Chosen()
"""Nothing is turned into anything else."""
_now: ContextVar[Chosen] = ContextVar("chosen", default=AS_SAID)


@contextmanager
def shown_in(chosen: Chosen) -> Iterator[None]:
    """Words for the eye that are made inside come in these units."""
    token = _now.set(chosen)
    try:
        yield
    finally:
        _now.reset(token)


def chosen_now() -> Chosen:
    """The choice that holds."""
    return _now.get()


def converted(quantity: Quantity) -> Quantity:
    """An amount in the unit that is wanted, to be rounded as a cook would say it.

    >>> with shown_in(Chosen(heat="degF", measure="us")):
    ...     warm, sugar = Quantity(value=75, unit="degC"), Quantity(value=600, unit="g")
    ...     converted(warm).unit, converted(sugar).unit
    ('degF', 'oz')
    """
    unit = _wanted(quantity)
    if unit is None or unit == quantity.unit:
        return quantity
    ends = (quantity.value, quantity.low, quantity.high)
    value, low, high = (None if end is None else _turned(end, quantity.unit, unit) for end in ends)
    return Quantity(value=value or 0.0, unit=unit, low=low, high=high)


def degrees(words: str, facts: Mapping[str, Fact]) -> Mapping[str, Fact]:
    """Facts of a template: a bare count of degrees is a difference, told in whole degrees up."""
    if _now.get().heat != "degF":
        return facts
    apart = {name: facts[name] for name in _DEGREES.findall(words) if name in facts}
    return {
        **facts,
        **{name: math.ceil(1.8 * n) for name, n in apart.items() if isinstance(n, int)},
    }


def fahrenheit(celsius: float) -> float:
    """[degC] to [degF], exactly: NIST SP 811, appendix B.9."""
    return 1.8 * celsius + 32.0


def _wanted(quantity: Quantity) -> Unit | None:
    chosen, kind = _now.get(), dimension(quantity.unit)
    if kind == "temperature":
        return chosen.heat if chosen.heat == "degF" else None
    if chosen.measure != "us":
        return None
    size = abs(to_base(quantity.value, quantity.unit)) if kind in ("mass", "volume") else 0.0
    if kind == "mass":
        return "oz" if size >= GRAMS_BELOW_G else None
    if kind != "volume":
        return None
    if quantity.exact:
        return "fl_oz"
    return "cup" if size >= _CUPS_FROM_ML else "tbsp" if size >= _TBSP_FROM_ML else "tsp"


def _turned(value: float, unit: Unit, to: Unit) -> float:
    base = to_base(value, unit)
    if to == "degF":
        return fahrenheit(base)
    return base / (_GRAMS_AN_OUNCE if to == "oz" else _ML[to])
