"""The acids of fruit and of the cupboard: molar mass and dissociation constants at 25 degC."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from assistant.base.errors import WrongUse

_E1 = "LibreTexts Reference Tables E1, acid dissociation constants at 25 degC"
_AQION = "aqion documentation, organic acids, pKa at 25 degC"
_EDEN = (
    "Eden & Bates (1959), J. Res. NBS 62, 161: K1 3.48e-4 at 25 degC, K2 by their equation; other "
    "tables give 3.40 and 5.11 to 5.20"
)
_CANHAM = (
    "Bates & Canham (1951), J. Res. NBS 47, 343, from memory; aqion gives 3.03 and 4.37 for the "
    "racemate, 2.98 and 4.34 for the natural acid, which miss the pH standard by 0.04"
)
_PHOSPHORIC = "university table of acid constants, pKa at 25 degC: 2.148, 7.206, 12.342"
_CARBONIC = "Plummer & Busenberg (1982), Geochim. Cosmochim. Acta 46, 1011; from memory"
_SORBIC = "Smith & Hong-Shum (eds), Food Additives Data Book: ionisation constant 1.73e-5"


@dataclass(frozen=True)
class Acid:
    """One weak acid: molar mass [g/mol], pKa of each step [-], and where they are from."""

    name: str
    molar_mass: float
    pka: tuple[float, ...]
    status: Literal["read", "memory"]
    source: str


ACIDS: Mapping[str, Acid] = MappingProxyType(
    {
        acid.name: acid
        for acid in (
            Acid("citric", 192.123, (3.13, 4.76, 6.40), "read", _E1),
            Acid("malic", 134.087, (3.458, 5.097), "read", _EDEN),
            Acid("tartaric", 150.086, (3.036, 4.366), "memory", _CANHAM),
            Acid("ascorbic", 176.124, (4.10, 11.79), "memory", "CRC Handbook, older editions"),
            Acid("acetic", 60.052, (4.756,), "read", _E1),
            Acid("lactic", 90.078, (3.86,), "read", _AQION),
            Acid("sorbic", 112.128, (4.762,), "read", _SORBIC),
            Acid("benzoic", 122.123, (4.204,), "read", _E1),
            Acid("phosphoric", 97.994, (2.148, 7.206, 12.342), "read", _PHOSPHORIC),
            Acid("carbonic", 62.025, (6.352, 10.329), "memory", _CARBONIC),
        )
    }
)
"""Molar masses from standard atomic weights; citric acid without its crystal water. Other tables
differ by up to 0.1 in a pKa, which moves a reckoned pH by as much at most."""

PKW = 14.0
"""Ion product of water at 25 degC, rounded as in general chemistry tables. [-]"""
TITRATION_END_PH = 8.2
"""End point of a titration for acidity, the colour change of phenolphthalein. [-]"""
MONOHYDRATE_PER_ANHYDROUS = 210.138 / 192.123
"""Citric acid with its crystal water for one part without, 1.094: atomic weights. [g/g]"""
CITRIC_G_PER_EQUIVALENT = 192.123 / 3
"""Citric acid that one mole of base neutralises: the unit of titratable acidity. [g/mol]"""

SOURING = ("citric", "malic", "tartaric", "ascorbic", "acetic", "lactic", "phosphoric")
"""The acids that one stirs in to make a syrup sour; the others come with salts and water."""


def souring_acid(name: str) -> str:
    """The name, where it is an acid to make a syrup sour with.

    Parameters
    ----------
    name : str
        One of `SOURING`. [-]

    Returns
    -------
    str
        The same; WrongUse, with the known names, for another.

    >>> souring_acid("malic")
    'malic'

    References: common practice, no source.
    """
    if name not in SOURING:
        raise WrongUse(f"no acid {name!r} to make a syrup sour: use one of {', '.join(SOURING)}")
    return name


def acid_named(name: str) -> Acid:
    """The acid of that name.

    Parameters
    ----------
    name : str
        One of the names of `ACIDS`. [-]

    Returns
    -------
    Acid
        Its constants; WrongUse, with the known names, for another.

    >>> acid_named("malic").pka
    (3.458, 5.097)

    References: each acid names its own.
    """
    found = ACIDS.get(name)
    if found is None:
        raise WrongUse(f"no acid {name!r}: use one of {', '.join(ACIDS)}")
    return found
