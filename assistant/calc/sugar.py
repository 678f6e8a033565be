"""Sugar by weight: how much sugar, water or syrup a Brix needs. The public face of the subject.

Brix is the mass share of dissolved solids in per cent, all reckoned as sucrose. Fruit acids,
pectin and glycerin count as sugar here; `refraction` says how far that misleads a refractometer.
"""

from collections.abc import Iterable
from math import inf

from assistant.calc.bounds import inside
from assistant.calc.density import (
    MAX_BRIX,
    MAX_TEMP_C,
    brix_from_density,
    brix_from_specific_gravity,
    density,
    mass_of_volume,
    specific_gravity,
    volume,
    water_density,
)
from assistant.calc.mash import (
    PULP_SHARE,
    WASHED_OUT,
    Rinsed,
    Strained,
    Syrup,
    rinse,
    strained_juice,
)

__all__ = [
    "MAX_BRIX",
    "MAX_TEMP_C",
    "PULP_SHARE",
    "WASHED_OUT",
    "Rinsed",
    "Strained",
    "Syrup",
    "blend",
    "brix_from_density",
    "brix_from_specific_gravity",
    "brix_of",
    "density",
    "mass_of_volume",
    "rinse",
    "specific_gravity",
    "strained_juice",
    "sugar_for_brix",
    "volume",
    "water_density",
    "water_for_brix",
    "water_to_boil_off",
]


def brix_of(parts: Iterable[tuple[float, float]]) -> float:
    """Brix of everything poured together, by mass balance.

    parts : pairs of mass [g] and Brix [mass %]; dry sugar is 100, water 0
    Returns the Brix [mass %], 0 to 100; OutOfRange for negative parts or nothing at all.

    >>> brix_of([(1000, 12), (800, 100)])
    51.11
    """
    checked = [(_mass("mass", m), inside("Brix", b, 0.0, 100.0)) for m, b in parts]
    total = inside("total mass", sum(m for m, _ in checked), 1e-9, inf, "g")
    return min(sum(m * b for m, b in checked) / total, 100.0)


def sugar_for_brix(mass_g: float, brix: float, target: float) -> float:
    """Dry sugar to stir in to reach a Brix, by mass balance.

    mass_g : mass before [g]; brix : Brix before [mass %]; target : Brix wanted, below 100 [mass %]
    Returns the sugar [g]; OutOfRange where the syrup is already past the target.

    >>> sugar_for_brix(1200, 12, 61)
    1507.7
    """
    _mass("mass", mass_g)
    inside("target Brix", target, inside("Brix", brix, 0.0, 99.9), 99.9)
    return mass_g * (target - brix) / (100 - target)


def water_for_brix(mass_g: float, brix: float, target: float) -> float:
    """Water to stir in to thin a syrup to a Brix, by mass balance.

    mass_g : mass before [g]; brix : Brix before [mass %]; target : Brix wanted, above 0 [mass %]
    Returns the water [g]; OutOfRange where the syrup is already thinner.

    >>> water_for_brix(1000, 65, 60)
    83.3
    """
    _mass("mass", mass_g)
    inside("target Brix", target, 0.1, inside("Brix", brix, 0.1, 100.0))
    return mass_g * (brix - target) / target


def water_to_boil_off(mass_g: float, brix: float, target: float) -> float:
    """Water to lose as steam to thicken a syrup to a Brix, by mass balance.

    mass_g : mass before [g]; brix : Brix before [mass %], from 0.1; target : Brix wanted [mass %]
    Returns the water [g]; OutOfRange where the syrup is already past the target, or is water.

    >>> water_to_boil_off(1000, 55, 60)
    83.3
    """
    _mass("mass", mass_g)
    inside("target Brix", target, inside("Brix", brix, 0.1, 100.0), 100.0)
    return mass_g * (target - brix) / target


def blend(mass_a: float, brix_a: float, brix_b: float, target: float) -> float:
    """Mass of syrup b that brings syrup a to a Brix, by mass balance.

    mass_a : mass of a [g]; brix_a, brix_b : their Brix [mass %]; target : Brix wanted [mass %],
    from brix_a towards brix_b but short of it
    Returns the mass of b [g]; OutOfRange where no amount of b reaches the target.

    >>> blend(1000, 40, 70, 60)
    2000.0
    """
    for brix in (brix_a, brix_b):
        inside("Brix", brix, 0.0, 100.0)
    inside("target Brix", target, min(brix_a, brix_b), max(brix_a, brix_b))
    if target == brix_a:
        return 0.0 * _mass("mass", mass_a)
    inside("way left to the other Brix", abs(brix_b - target), 1e-6, 100.0)
    return _mass("mass", mass_a) * (target - brix_a) / (brix_b - target)


def _mass(what: str, mass_g: float) -> float:
    return inside(what, mass_g, 0.0, inf, "g")
