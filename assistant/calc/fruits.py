"""What fruit is made of: water, soluble solids, pH range and acidity, with sources in the table."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from assistant.calc.spread import Spread

PUNNET_G = Spread(125.0, 225.0, 400.0)
"""Fruit in a punnet, as shops sell them; they differ widely (common practice, no source). [g]"""
BRIX_SPREAD = 0.15
"""Ripeness and season move the soluble solids of fruit by about this share of themselves, each
way (common practice, no source)."""

Acidity = Literal["acid", "borderline", "low-acid"]
_OTHER_SOLUBLE = 1.0
"""Minerals, pectin and the like dissolved in juice: common practice, no source. [g per 100 g]"""


@dataclass(frozen=True)
class Fruit:
    """One fruit; None where no figure is known.

    water, sugars, carbohydrate, acidity : [g per 100 g of fruit]
    juice_brix : soluble solids of the juice [mass %]; ph_low, ph_high : range [-]
    juice_spread : the same of a mixture, with the spread of its parts [mass %]
    stone : its stone or stones, as a share of the whole fruit [g/g]; piece_g : what one weighs,
        whole [g]; juice_g : juice pressed out of the whole fruit [g/g]
    stone_source, piece_source, juice_source : where these are from
    """

    name: str
    acidity_class: Acidity
    note: str = ""
    water: float | None = None
    sugars: float | None = None
    carbohydrate: float | None = None
    juice_brix: float | None = None
    ph_low: float | None = None
    ph_high: float | None = None
    acidity: float | None = None
    main_acid: str | None = None
    juice_spread: Spread | None = None
    stone: Spread | None = None
    stone_source: str = ""
    piece_g: Spread | None = None
    piece_source: str = ""
    juice_g: Spread | None = None
    juice_source: str = ""

    def brix(self) -> Spread:
        """Soluble solids of its juice with their spread. [mass %]

        Without a figure for the juice, sugars and acid stand in, with double the spread, dissolved
        in the fruit's own water. Carbohydrate does not: it counts fibre, which stays in the cloth.

        >>> fruit("strawberry").brix().likely, fruit("melon-honeydew").brix().likely
        (8.0, 9.3)
        """
        if self.juice_spread is not None:
            return self.juice_spread
        if self.juice_brix is not None:
            return Spread.within(self.juice_brix, BRIX_SPREAD)
        if self.sugars is not None and self.water is not None:
            solids = self.sugars + (self.acidity or 0.0) + _OTHER_SOLUBLE
            return Spread.within(100 * solids / (self.water + solids), 2 * BRIX_SPREAD)
        return Spread(3.0, 10.0, 18.0)


@cache
def all_fruits() -> dict[str, Fruit]:
    """Every fruit of the table by its key."""
    text = files(__package__).joinpath("fruits.toml").read_text("utf-8")
    return {key: Fruit(**_spreads(row)) for key, row in tomllib.loads(text).items()}


_SPREADS = ("stone", "piece_g", "juice_g")


def _spreads(row: dict[str, Any]) -> dict[str, Any]:
    """The row with its lists of three as low, likely and high."""
    return {key: Spread(*value) if key in _SPREADS else value for key, value in row.items()}


def fruit(name: str) -> Fruit | None:
    """The fruit of that name, or None.

    >>> fruit("blackcurrant").water
    81.96
    """
    return all_fruits().get(name)
