"""Units at the edge: what a cook says, and the one unit each quantity is reckoned in.

Inside, mass is in g, volume in ml, temperature in degC, time in s, dose in g/l; pH, Brix and
counts have no unit. Spoon and cup are the kitchen measures of NIST, "Cooking Measurement
Equivalencies" (teaspoon 5 ml, tablespoon 15 ml, cup 240 ml); ounce and pound are avoirdupois,
"pint" and "fluid ounce" are the US ones.
"""

from functools import cache, lru_cache
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    import pint

Unit = Literal[
    "g", "kg", "mg", "oz", "lb",
    "ml", "cl", "l", "tsp", "tbsp", "cup", "fl_oz", "pint",
    "degC", "degF",
    "s", "min", "h", "day",
    "g/l", "g/kg", "ppm", "%", "pH", "Brix", "count",
]  # fmt: skip
Dimension = Literal["mass", "volume", "temperature", "time", "dose", "share", "pH", "Brix", "count"]

UNITS: tuple[str, ...] = get_args(Unit)

_DIMENSION: dict[str, Dimension] = {
    **dict.fromkeys(("g", "kg", "mg", "oz", "lb"), "mass"),
    **dict.fromkeys(("ml", "cl", "l", "tsp", "tbsp", "cup", "fl_oz", "pint"), "volume"),
    **dict.fromkeys(("degC", "degF"), "temperature"),
    **dict.fromkeys(("s", "min", "h", "day"), "time"),
    "g/l": "dose",
    **dict.fromkeys(("g/kg", "ppm", "%"), "share"),
    "pH": "pH",
    "Brix": "Brix",
    "count": "count",
}
BASE_UNIT: dict[Dimension, Unit] = {
    "mass": "g",
    "volume": "ml",
    "temperature": "degC",
    "time": "s",
    "dose": "g/l",
    "share": "g/kg",
    "pH": "pH",
    "Brix": "Brix",
    "count": "count",
}

_DEFINITIONS = (
    "kilo- = 1000 = k-",
    "centi- = 0.01 = c-",
    "milli- = 0.001 = m-",
    "gram = [mass] = g",
    "pound = 453.59237 * gram = lb",
    "ounce = pound / 16 = oz",
    "liter = [volume] = l",
    "kitchen_teaspoon = 0.005 * liter",
    "kitchen_tablespoon = 0.015 * liter",
    "kitchen_cup = 0.24 * liter",
    "pint = 0.473176473 * liter",
    "fluid_ounce = pint / 16",
    "second = [time] = s",
    "minute = 60 * second = min",
    "hour = 60 * minute",
    "day = 24 * hour",
    "kelvin = [temperature]; offset: 0 = K",
    "degree_Celsius = kelvin; offset: 273.15 = degC",
    "degree_Fahrenheit = 5 / 9 * kelvin; offset: 255.372222222222222 = degF",
)
"""A kitchen's units and no others: pint's own list takes 0.2 s and more to read, this one 7 ms.
The pound, the US pint and the degrees are exact by definition."""
_IN_BASE = {
    "g": 1.0, "kg": 1000.0, "mg": 0.001, "oz": 28.349523125, "lb": 453.59237,
    "ml": 1.0, "cl": 10.0, "l": 1000.0, "tsp": 5.0, "tbsp": 15.0, "cup": 240.0,
    "fl_oz": 29.5735295625, "pint": 473.176473,
    "s": 1.0, "min": 60.0, "h": 3600.0, "day": 86400.0,
}  # fmt: skip
"""What pint makes of one of each in its base unit, to the bit (a test compares), so that a turn
needn't wait 0.2 s for pint."""
_PER_KILO = {"g/kg": 1.0, "ppm": 0.001, "%": 10.0}
"""Grams in a kilo, of a share by mass."""
_PINT_NAME = {
    "tsp": "kitchen_teaspoon",
    "tbsp": "kitchen_tablespoon",
    "cup": "kitchen_cup",
    "fl_oz": "fluid_ounce",
    "h": "hour",
}


def dimension(unit: str) -> Dimension:
    """The kind of quantity a unit measures.

    >>> dimension("tbsp")
    'volume'
    """
    return _DIMENSION[unit]


def to_base(value: float, unit: str) -> float:
    """A value in the unit its dimension is reckoned in (g, ml, degC, s, g/l).

    >>> round(to_base(2.75, "lb"), 1)
    1247.4
    >>> round(to_base(158, "degF"), 1)
    70.0
    """
    return convert(value, unit, BASE_UNIT[dimension(unit)])


def convert(value: float, unit: str, to: str) -> float:
    """A value in another unit of the same dimension; ValueError when the dimensions differ.

    >>> convert(1.5, "l", "ml")
    1500.0
    """
    if dimension(unit) != dimension(to):
        raise ValueError(f"{unit} is a {dimension(unit)}, {to} is a {dimension(to)}")
    if unit == to:
        return float(value)
    if unit in _PER_KILO:
        return float(value) * _PER_KILO[unit] / _PER_KILO[to]
    if unit in _IN_BASE and to == BASE_UNIT[dimension(unit)]:
        return value * _IN_BASE[unit]
    if (unit, to) == ("degF", "degC"):
        return value * (5 / 9) + 255.372222222222222 - 273.15
    return _converted(value, unit, to)


@lru_cache(maxsize=4096)
def _converted(value: float, unit: str, to: str) -> float:
    """Remembered, since a fold asks for the same few readings hundreds of times."""
    quantity = _registry().Quantity(value, _PINT_NAME.get(unit, unit))
    return float(quantity.to(_PINT_NAME.get(to, to)).magnitude)


@cache
def _registry() -> "pint.UnitRegistry[float]":
    """pint with a kitchen's units, loaded when first needed."""
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(
        None, autoconvert_offset_to_baseunit=True
    )
    for definition in _DEFINITIONS:
        registry.define(definition)
    return registry
