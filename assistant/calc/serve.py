"""The syrup in the glass: how much of it, how sweet, how sour, how much energy."""

from dataclasses import dataclass
from math import inf

from assistant.calc.bounds import inside
from assistant.calc.density import mass_of_volume, volume

KJ_PER_G = {"sugar": 17.0, "acid": 13.0, "glycerin": 10.0, "alcohol": 29.0}
KCAL_PER_G = {"sugar": 4.0, "acid": 3.0, "glycerin": 2.4, "alcohol": 7.0}
"""Carbohydrate, organic acids, polyols and alcohol. Regulation (EU) No 1169/2011, Annex XIV, that
of alcohol from memory. [kcal/g]"""


@dataclass(frozen=True)
class Glass:
    """One glass, filled.

    brix : of the drink [mass %]; water_parts : volumes of water to one of syrup [-]
    acid_g : acid in the glass, 0 where that of the syrup was not given [g]
    """

    glass_ml: float
    brix: float
    syrup_ml: float
    syrup_g: float
    water_ml: float
    sugar_g: float
    acid_g: float

    @property
    def water_parts(self) -> float:
        """Volumes of water to one of syrup. [-]"""
        return self.water_ml / self.syrup_ml

    @property
    def acid_g_l(self) -> float:
        """Acid in the drink. [g/l]"""
        return 1000.0 * self.acid_g / self.glass_ml


@dataclass(frozen=True)
class Energy:
    """Energy by both factors of the label rule, which are rounded apart. [kJ], [kcal]"""

    kj: float
    kcal: float


def dilute(brix: float, target_brix: float, glass_ml: float, acid_g_l: float = 0.0) -> Glass:
    """Syrup and water for a glass of a given sweetness. Mass balance.

    Volumes by ICUMSA SPS-4 (1994), at 20 C; syrup and water shrink a little when mixed, so the two
    add up to slightly more than the glass.

    brix : of the syrup [mass %]
    target_brix : of the drink; about 8 to 12 is usual (common practice, no source) [mass %]
    glass_ml : filled to [ml]
    acid_g_l : acid in the syrup [g/l]
    Returns the glass. Valid for a target from 0.1 up to the syrup's own Brix, syrups to 85 Brix,
    else OutOfRange.

    >>> glass = dilute(60, 10, 200)
    >>> round(glass.syrup_ml), round(glass.water_ml), round(glass.sugar_g, 1)
    (27, 173, 20.8)
    """
    inside("Brix", brix, 0.1, 85.0)
    inside("target Brix", target_brix, 0.1, brix)
    inside("glass", glass_ml, 1.0, 100_000.0, "ml")
    inside("acid", acid_g_l, 0.0, 200.0, "g/l")
    drink_g = mass_of_volume(glass_ml, target_brix)
    sugar_g = drink_g * target_brix / 100.0
    syrup_g = 100.0 * sugar_g / brix
    syrup_ml = volume(syrup_g, brix)
    water_ml = volume(max(drink_g - syrup_g, 0.0), 0.0)
    acid_g = acid_g_l * syrup_ml / 1000.0
    return Glass(glass_ml, target_brix, syrup_ml, syrup_g, water_ml, sugar_g, acid_g)


def dilute_by_parts(
    brix: float, water_parts: float, glass_ml: float, acid_g_l: float = 0.0
) -> Glass:
    """A glass mixed one part syrup to so many parts water, by volume. Mass balance.

    Volumes as in `dilute`.

    brix : of the syrup [mass %]
    water_parts : volumes of water to one of syrup [-]
    glass_ml : filled to [ml]
    acid_g_l : acid in the syrup [g/l]
    Returns the glass. Valid for 0 to 50 parts, else as `dilute`; OutOfRange.

    >>> round(dilute_by_parts(60, 6, 200).brix, 1)
    10.6
    """
    inside("parts of water", water_parts, 0.0, 50.0)
    syrup_g = mass_of_volume(1.0, inside("Brix", brix, 0.1, 85.0))
    water_g = mass_of_volume(water_parts, 0.0) if water_parts else 0.0
    return dilute(brix, brix * syrup_g / (syrup_g + water_g), glass_ml, acid_g_l)


def dilute_to_acid(brix: float, acid_g_l: float, target_g_l: float, glass_ml: float) -> Glass:
    """A glass of a given sourness, whatever sweetness comes with it. Mass balance.

    Volumes as in `dilute`.

    brix : of the syrup [mass %]
    acid_g_l : acid in the syrup [g/l]
    target_g_l : acid in the drink [g/l]
    glass_ml : filled to [ml]
    Returns the glass. Valid for a target above 0 and up to the syrup's own acid, else as `dilute`;
    OutOfRange.

    >>> glass = dilute_to_acid(60, 20, 3, 200)
    >>> round(glass.syrup_ml, 1), round(glass.brix, 1)
    (30.0, 11.1)
    """
    inside("acid", acid_g_l, 0.01, 200.0, "g/l")
    inside("target acid", target_g_l, acid_g_l / 200.0, acid_g_l, "g/l")
    inside("glass", glass_ml, 1.0, 100_000.0, "ml")
    syrup_g = mass_of_volume(glass_ml * target_g_l / acid_g_l, brix)
    drink_brix = _brix_in(glass_ml, syrup_g * brix / 100.0, brix)
    return dilute(brix, drink_brix, glass_ml, acid_g_l)


def _brix_in(glass_ml: float, sugar_g: float, most: float) -> float:
    """Brix of a glass that holds so much sugar, by halving: it rises with the sugar."""
    low, high = 0.0, most
    for _ in range(60):
        middle = (low + high) / 2.0
        if mass_of_volume(glass_ml, middle) * middle / 100.0 < sugar_g:
            low = middle
        else:
            high = middle
    return high


def glasses_per_bottle(bottle_ml: float, glass: Glass) -> float:
    """How many such glasses a bottle of syrup makes. Division.

    bottle_ml : syrup in the bottle [ml]
    glass : from `dilute` [-]
    Returns glasses, the last one partly filled [-]. Valid for 0 to 100 000 ml, else OutOfRange.

    >>> round(glasses_per_bottle(500, dilute(60, 10, 200)), 1)
    18.6
    """
    return inside("bottle", bottle_ml, 0.0, 100_000.0, "ml") / glass.syrup_ml


def energy(
    sugar_g: float, acid_g: float = 0.0, glycerin_g: float = 0.0, alcohol_g: float = 0.0
) -> Energy:
    """Energy of what is dissolved in a glass, by the factors for labels.

    Regulation (EU) No 1169/2011, Annex XIV: carbohydrate 17 kJ (4 kcal), organic acids 13 kJ (3
    kcal), polyols 10 kJ (2.4 kcal), alcohol 29 kJ (7 kcal, from memory) a gram. All dissolved
    solids counted as sugar errs upwards.

    sugar_g, acid_g, glycerin_g, alcohol_g : in the glass [g]
    Returns energy [kJ], [kcal]. OutOfRange for less than nothing.

    >>> energy(20)
    Energy(kj=340.0, kcal=80.0)
    """
    grams = {"sugar": sugar_g, "acid": acid_g, "glycerin": glycerin_g, "alcohol": alcohol_g}
    for name, mass_g in grams.items():
        inside(name, mass_g, 0.0, inf, "g")
    return Energy(
        sum(KJ_PER_G[name] * mass_g for name, mass_g in grams.items()),
        sum(KCAL_PER_G[name] * mass_g for name, mass_g in grams.items()),
    )
