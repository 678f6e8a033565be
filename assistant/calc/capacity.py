"""What a cup, pint, spoon or fluid ounce holds, by whose measure it is."""

from typing import Literal

from assistant.calc.bounds import inside
from assistant.calc.spread import Spread

System = Literal["us", "us_label", "metric", "imperial", "australian", "old_canadian"]
Measure = Literal["tsp", "tbsp", "fl_oz", "cup", "pint"]

_UKMA = "UK Metric Association, cup and pint sizes"
_UNITS = "US customary units, NIST SP 430 family"
_NIST = "NIST, Cooking Measurement Equivalencies"
_FDA = "FDA labelling value"
_TABLE = "cooking measures table, Australian standard spoons"

CAPACITY_ML: dict[Measure, dict[System, tuple[float, str]]] = {
    "tsp": {"us": (4.92892, _UNITS), "metric": (5.0, _NIST)},
    "tbsp": {"us": (14.7868, _UNITS), "metric": (15.0, _NIST), "australian": (20.0, _TABLE)},
    "fl_oz": {
        "us": (29.5735, f"{_UNITS}: an eighth of a cup"),
        "us_label": (30.0, _NIST),
        "imperial": (28.4131, f"{_UKMA}: a tenth of a cup"),
    },
    "cup": {
        "us": (236.588, _UKMA),
        "us_label": (240.0, _FDA),
        "metric": (250.0, _UKMA),
        "imperial": (284.131, _UKMA),
        "old_canadian": (227.305, _UKMA),
    },
    "pint": {
        "us": (473.176, f"{_UNITS}: two cups"),
        "imperial": (568.261, f"{_UKMA}: twenty fluid ounces"),
    },
}
"""Millilitres of each measure in each system that has it, with the source."""


def unsure_ml(measure: Measure, count: float = 1.0) -> Spread:
    """What so many of a measure hold when nobody said whose it is: the smallest to the largest.

    measure : as above [-]; count : how many, 0 to 1000 [-]
    Returns low, US and high volume [ml]. OutOfRange for another count.

    >>> unsure_ml("pint")
    Spread(low=473.176, likely=473.176, high=568.261)
    """
    inside("number of measures", count, 0.0, 1000.0)
    held = [ml for ml, _ in CAPACITY_ML[measure].values()]
    return Spread(count * min(held), count * CAPACITY_ML[measure]["us"][0], count * max(held))
