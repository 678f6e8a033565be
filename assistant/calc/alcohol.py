"""Spirit in syrup: strength and volume once mixed, and what sugar and alcohol do together.

Alcohol and water shrink when they are mixed. The sugar is taken to keep the room it has in the
syrup, which is an estimate.
"""

from dataclasses import dataclass

from assistant.calc.bounds import inside
from assistant.calc.density import density, water_density
from assistant.calc.spread import Spread

_OIML = (
    9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4,
    3.062874042e5, -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4,
)  # fmt: skip
"""Powers of the mass share of alcohol, at 20 degC: OIML R 22 (1973), as in Directive 76/766/EEC;
the first five were read there, the others are from memory. [kg/m3]"""
VOLUME_SHARE = 0.005
"""How far the volume of a sweet mixture may be off, of itself: no source."""
DELLE_PER_ABV = 4.5
DELLE_QUIET = Spread(65.0, 78.0, 85.0)
"""Delle units above which wine yeast stopped: about 78, more or less by must and yeast (Amerine &
Kunkee 1965; the ends from memory). Yeasts that love sugar were not tried. [-]"""


@dataclass(frozen=True)
class SpiritMix:
    """Syrup and spirit mixed. [ml], [% vol], [ml], [g/l], Delle units [-]"""

    volume_ml: Spread
    abv: Spread
    shrunk_ml: float
    sugar_g_l: float
    delle: float


def alcohol_density(mass_share: float) -> float:
    """Density of alcohol and water at 20 degC.

    Parameters
    ----------
    mass_share : float
        Alcohol, as a share of the mass. [-]

    Returns
    -------
    float
        Density. [g/ml]

    Valid for 0 to 1; OutOfRange outside.

    >>> alcohol_density(0.5), alcohol_density(1.0)
    (0.91377, 0.78924)

    References: OIML R 22 (1973), International Alcoholometric Tables, general formula.
    """
    share = inside("share of alcohol", mass_share, 0.0, 1.0)
    kg_m3: float = sum(c * share**n for n, c in enumerate(_OIML))
    return kg_m3 / 1000


def mass_share_of(abv: float) -> float:
    """The mass share of alcohol in a spirit, from its strength by volume at 20 degC.

    Parameters
    ----------
    abv : float
        Alcohol by volume. [%]

    Returns
    -------
    float
        Share of the mass. [-]

    Valid for 0 to 100 %; OutOfRange outside.

    >>> mass_share_of(40)
    0.3330

    References: OIML R 22 (1973).
    """
    wanted = inside("alcohol", abv, 0.0, 100.0, "%") / 100 * alcohol_density(1.0)
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if middle * alcohol_density(middle) < wanted else (low, middle)
    return (low + high) / 2


def spirit_mixed(syrup_ml: float, brix: float, spirit_ml: float, abv: float) -> SpiritMix:
    """What syrup and spirit come to, with the room that mixing takes away.

    Parameters
    ----------
    syrup_ml : float
        Syrup, at 20 degC. [ml]
    brix : float
        Its sugar. [mass %]
    spirit_ml : float
        Spirit, at 20 degC. [ml]
    abv : float
        Its alcohol by volume. [%]

    Returns
    -------
    SpiritMix
        Volume, strength, how much it shrank, sugar, and Delle units.

    Valid for 1 to 1e6 ml of syrup, 0 to 1e6 of spirit, 0 to 85 Brix, 0 to 97 %; OutOfRange outside.

    >>> mix = spirit_mixed(1000, 60, 1000, 40)
    >>> mix.volume_ml.likely, mix.abv.likely
    (1997.9, 20.0)

    References: OIML R 22 (1973) for alcohol and water; ICUMSA SPS-4 (1994) for the sugar's room;
    Delle units as percentage of sugar plus 4.5 times that of alcohol, Amerine & Kunkee (1965),
    Vitis 5, 187.
    """
    inside("syrup", syrup_ml, 1.0, 1e6, "ml")
    inside("spirit", spirit_ml, 0.0, 1e6, "ml")
    inside("alcohol", abv, 0.0, 97.0, "%")
    syrup_g = syrup_ml * density(brix)
    water_g = syrup_g * (1 - brix / 100)
    share = mass_share_of(abv)
    spirit_g = spirit_ml * alcohol_density(share)
    wet_g = water_g + spirit_g
    sugar_ml = syrup_ml - water_g / water_density()
    ml = wet_g / alcohol_density(spirit_g * share / wet_g) + sugar_ml
    strength = spirit_ml * abv / ml
    sugar_g_l = 1000 * syrup_g * brix / 100 / ml
    return SpiritMix(
        Spread.within(ml, VOLUME_SHARE),
        Spread.within(strength, VOLUME_SHARE),
        syrup_ml + spirit_ml - ml,
        sugar_g_l,
        sugar_g_l / 10 + DELLE_PER_ABV * strength,
    )
