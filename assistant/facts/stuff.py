"""The stuff of a kitchen: what amounts are made of, what is read in which units, and how much."""

from assistant.base.units import Unit
from assistant.facts.events import What

_READ_AS: dict[str, What] = {
    "crushing_sugar": "sugar",
    "main_sugar": "sugar",
    "hot_water": "water",
    "citric_acid": "citric_acid",
    "ascorbic_acid": "ascorbic_acid",
    "glycerin": "glycerin",
    "sorbate": "sorbate",
}
AMOUNT_WORDS: dict[str, str] = {
    "crushing_sugar": "the first sugar",
    "main_sugar": "the main sugar",
    "hot_water": "water",
    "vinegar": "vinegar",
    "citric_acid": "citric acid",
    "malic_acid": "malic acid",
    "ascorbic_acid": "ascorbic acid",
    "gum_arabic": "gum arabic",
    "glycerin": "glycerin",
    "darker_syrup": "the darker syrup",
    "sorbate": "potassium sorbate",
}
"""The amounts a recipe may name, in words."""

_MASS: tuple[Unit, ...] = ("g", "kg", "lb", "oz", "mg")
_VOLUME: tuple[Unit, ...] = ("ml", "l", "cl", "cup", "pint", "fl_oz", "tbsp", "tsp")
UNITS: dict[str, tuple[Unit, ...]] = {
    "fruit": ("kg", "g", "lb", "oz"),
    "juice": ("l", "ml", "cl", "pint", "kg", "g", "lb", "oz"),
    "temperature": ("degC", "degF"),
    "ph": ("pH",),
    "brix": ("Brix",),
    "sugar": _MASS,
    "water": (*_VOLUME, *_MASS),
    "glycerin": (*_VOLUME, *_MASS),
    "sorbate": ("g/l", *_MASS),
    "citric_acid": _MASS,
    "ascorbic_acid": _MASS,
    "bottles": ("count",),
    "yield": ("kg", "g", "l", "ml", "cl", "lb", "oz"),
}
RANGES: dict[str, tuple[float, float]] = {
    "fruit": (50.0, 50_000.0),
    "juice": (50.0, 80_000.0),
    "temperature": (-5.0, 115.0),
    "ph": (1.5, 8.0),
    "brix": (0.0, 85.0),
    "sugar": (1.0, 100_000.0),
    "water": (1.0, 100_000.0),
    "citric_acid": (0.1, 2_000.0),
    "ascorbic_acid": (0.1, 500.0),
    "glycerin": (0.5, 10_000.0),
    "sorbate": (0.001, 200.0),
    "bottles": (1.0, 500.0),
    "yield": (50.0, 80_000.0),
}
"""What a small kitchen can mean, in base units: a pan from slush to boiling 80 Brix, fruit from a
handful to a cartload. Outside, the number is asked about (common practice, no source)."""


def read_as(amount: str) -> What | None:
    """What a cook's number for an amount of a recipe is a reading of; None where nobody can say it.

    >>> read_as("main_sugar"), read_as("gum_arabic")
    ('sugar', None)
    """
    return _READ_AS.get(amount)


def stuff_of(amount: str) -> str:
    """What an amount of a recipe is made of; both sugars are sugar.

    >>> stuff_of("crushing_sugar"), stuff_of("vinegar")
    ('sugar', 'vinegar')
    """
    return _READ_AS.get(amount, amount)
