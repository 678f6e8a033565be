"""Frozen fruit: what it takes to thaw, and where hot water on it ends.

Water in fruit freezes over a range: the sugar left behind keeps the rest liquid. The heat is told
from -40 degC upwards, where next to all is ice.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.calc.bounds import inside
from assistant.calc.heat import Part, cp_fruit
from assistant.calc.spread import Spread

FREEZING_C = -1.0
"""Where fruit begins to freeze: strawberries -0.8, raspberries -0.6, blueberries -1.6, sour
cherries -1.7 (ASHRAE Handbook, Refrigeration, read at second hand). [degC]"""
ICE_HEAT_J_G = 333.6
"""Heat that melts ice at 0 degC: ASHRAE Handbook, Refrigeration. [J/g]"""
FROM_C = -40.0
"""Where heat is counted from. [degC]"""
HEAT_SHARE = 0.05
"""How far the heat of a real fruit may lie from the reckoned one, of itself: no source."""


@dataclass(frozen=True)
class Thawed:
    """Where frozen fruit and something warm end. [degC], share of the fruit's ice left [-]"""

    temp_c: Spread
    ice_left: float


def fruit_heat(water_share: float, temp_c: float, freezing_c: float = FREEZING_C) -> float:
    """Heat in a gram of fruit, ice and all, above what it has at -40 degC.

    Parameters
    ----------
    water_share : float
        Water in the fruit. [-]
    temp_c : float
        Its temperature. [degC]
    freezing_c : float
        Where it begins to freeze. [degC]

    Returns
    -------
    float
        Heat. [J/g]

    Valid for shares 0.6 to 0.97, -40 to 100 degC, freezing from -4 to -0.1 degC; OutOfRange
    outside. Within some 3 % of measured strawberries.

    >>> fruit_heat(0.893, 0.0, -0.8), fruit_heat(0.893, -20.0, -0.8)
    (361.1, 39.7)

    References: Chen (1985), J. Food Sci. 50, 1158, as in ASHRAE Handbook, Refrigeration, thermal
    properties of foods (equations from memory); above freezing Choi & Okos (1986).
    """
    inside("water share", water_share, 0.6, 0.97)
    inside("temperature", temp_c, FROM_C, 100.0, "degC")
    inside("freezing point", freezing_c, -4.0, -0.1, "degC")
    if temp_c <= freezing_c:
        return _frozen_heat(water_share, temp_c, freezing_c)
    warm = cp_fruit(water_share, max(temp_c, 0.0) / 2) * (temp_c - freezing_c)
    return _frozen_heat(water_share, freezing_c, freezing_c) + warm


def _frozen_heat(water_share: float, temp_c: float, freezing_c: float) -> float:
    solids = 1 - water_share
    ice = water_share * ICE_HEAT_J_G * freezing_c / (FROM_C * temp_c)
    return (temp_c - FROM_C) * (1.55 + 1.26 * solids - ice)


def onto_frozen(
    fruit_g: float,
    water_share: float,
    fruit_c: float,
    parts: Sequence[Part],
    freezing_c: float = FREEZING_C,
) -> Thawed:
    """Where frozen fruit ends with hot water or syrup on it, nothing lost to the room.

    Parameters
    ----------
    fruit_g : float
        Frozen fruit. [g]
    water_share : float
        Water in it. [-]
    fruit_c : float
        Its temperature. [degC]
    parts : Sequence[Part]
        What is poured on, pan and all. [g], [J/(g K)], [degC]
    freezing_c : float
        Where the fruit begins to freeze. [degC]

    Returns
    -------
    Thawed
        Where it ends, with its spread, and how much ice is left where that is at freezing.

    Valid as `fruit_heat`, parts of 0 to 100 degC; OutOfRange outside.

    >>> onto_frozen(1000, 0.88, -18.0, [Part(1000, 4.19, 95)]).temp_c
    Spread(low=8.8, likely=10.9, high=13.2)

    References: heat balance with Chen (1985).
    """
    inside("fruit", fruit_g, 1e-6, 1e7, "g")
    for part in parts:
        inside("mass", part.mass_g, 0.0, 1e7, "g")
        inside("temperature", part.temp_c, 0.0, 100.0, "degC")
    ends = [_ends(fruit_g, water_share, fruit_c, parts, freezing_c, t) for t in _WAYS]
    temps = [temp for temp, _ in ends]
    return Thawed(Spread(min(temps), temps[0], max(temps)), ends[0][1])


_WAYS = (1.0, 1 - HEAT_SHARE, 1 + HEAT_SHARE)


def _ends(
    fruit_g: float,
    water_share: float,
    fruit_c: float,
    parts: Sequence[Part],
    freezing_c: float,
    times: float,
) -> tuple[float, float]:
    """Temperature, and share of the ice left, where thawing takes so many times the heat."""
    cold = fruit_heat(water_share, fruit_c, freezing_c)

    def missing(temp_c: float) -> float:
        taken = fruit_g * times * (fruit_heat(water_share, temp_c, freezing_c) - cold)
        return taken - sum(p.mass_g * p.cp * (p.temp_c - temp_c) for p in parts)

    short = missing(freezing_c)
    if short >= 0:
        takes = fruit_g * times * (fruit_heat(water_share, freezing_c, freezing_c) - cold)
        return freezing_c, min(short / takes, 1.0) if takes else 0.0
    low, high = freezing_c, 100.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if missing(middle) < 0 else (low, middle)
    return (low + high) / 2, 0.0
