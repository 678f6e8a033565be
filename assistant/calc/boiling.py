"""Where water and syrup boil: by sugar, by height above the sea, by the air of the day.

Water boils out of syrup when its activity times its vapour pressure is the pressure of the air.
"""

from bisect import bisect_left
from collections.abc import Callable
from math import exp

from assistant.calc.bounds import inside
from assistant.calc.spread import Spread
from assistant.calc.water import activity_sucrose

SEA_LEVEL_KPA = 101.325
"""Standard atmosphere, by definition. [kPa]"""
WEATHER_C = 0.5
"""High and low pressure move a boiling point by about this, each way: 2 kPa, from memory. [C]"""

_WAGNER = (
    (1.0, -7.85951783), (1.5, 1.84408259), (3.0, -11.7866497), (3.5, 22.6807411),
    (4.0, -15.9618719), (7.5, 1.80122502),
)  # fmt: skip
_CRITICAL_K, _CRITICAL_KPA = 647.096, 22_064.0
_CONFECTIONERS = (
    (0.0, 0.0), (30.0, 1.0), (40.0, 1.5), (50.0, 2.0), (60.0, 3.0), (66.0, 4.8), (70.0, 6.5),
    (76.0, 9.4), (80.0, 12.0), (84.0, 16.3), (90.0, 27.8),
)  # fmt: skip
"""Brix, and how far above water it boils, in a table of confectioners read at second hand. It lies
above what was measured, up to 5 degrees at 90 Brix, perhaps since boiling sugar inverts. [C]"""


def vapour_pressure(temp_c: float) -> float:
    """Vapour pressure of water.

    Parameters
    ----------
    temp_c : float
        Temperature. [degC]

    Returns
    -------
    float
        Pressure. [kPa]

    Valid for 0.01 to 150 degC; OutOfRange outside.

    >>> vapour_pressure(100), vapour_pressure(25)
    (101.42, 3.17)

    References: Wagner & Pruss (1993), J. Phys. Chem. Ref. Data 22, 783, the IAPWS saturation
    equation; coefficients from memory, held against 101.325 kPa at 99.97 degC.
    """
    kelvin = inside("temperature", temp_c, 0.01, 150.0, "degC") + 273.15
    tau = 1 - kelvin / _CRITICAL_K
    powers: float = sum(c * tau**n for n, c in _WAGNER)
    return _CRITICAL_KPA * exp(_CRITICAL_K / kelvin * powers)


def air_pressure(altitude_m: float) -> float:
    """Pressure of the air at a height above the sea, on a standard day.

    Parameters
    ----------
    altitude_m : float
        Height above the sea. [m]

    Returns
    -------
    float
        Pressure. [kPa]

    Valid for -430 to 5000 m; OutOfRange outside.

    >>> air_pressure(0), air_pressure(1500)
    (101.325, 84.56)

    References: ISO 2533:1975, Standard Atmosphere.
    """
    inside("height", altitude_m, -430.0, 5000.0, "m")
    return float(SEA_LEVEL_KPA * (1 - 2.25577e-5 * altitude_m) ** 5.25588)


def boils_at(brix: float, pressure_kpa: float = SEA_LEVEL_KPA) -> float:
    """Where a sucrose solution boils under a pressure.

    Parameters
    ----------
    brix : float
        Sucrose. [mass %]
    pressure_kpa : float
        Of the air. [kPa]

    Returns
    -------
    float
        Boiling point. [degC]

    Valid for 0 to 90 Brix and 10 to 110 kPa; OutOfRange outside.

    >>> boils_at(0), boils_at(65)
    (99.97, 103.77)

    References: Starzak & Peacock (1997), see `activity_sucrose`; Wagner & Pruss (1993).
    """
    inside("Brix", brix, 0.0, 90.0)
    inside("pressure", pressure_kpa, 10.0, 110.0, "kPa")
    return _rising(lambda t: activity_sucrose(brix, t) * vapour_pressure(t), pressure_kpa)


def _rising(function: Callable[[float], float], wanted: float) -> float:
    """Where a function that rises with temperature has a value, by bisection. [C]"""
    low, high = 40.0, 130.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if function(middle) < wanted else (low, middle)
    return (low + high) / 2


def boiling_point(brix: float, altitude_m: float = 0.0) -> Spread:
    """Where a syrup boils in a kitchen, with what weather and tables leave open.

    Parameters
    ----------
    brix : float
        Sucrose; fruit acid and inverted sugar make it boil hotter. [mass %]
    altitude_m : float
        Height of the kitchen above the sea. [m]

    Returns
    -------
    Spread
        Boiling point; the high end is the older table of confectioners. [degC]

    Valid for 0 to 90 Brix and -430 to 5000 m; OutOfRange outside.

    >>> boiling_point(65)
    Spread(low=103.3, likely=103.8, high=105.0)

    References: as `boils_at` and `air_pressure`.
    """
    likely = boils_at(brix, air_pressure(altitude_m))
    older = boils_at(0.0, air_pressure(altitude_m)) + _older_rise(brix)
    return Spread(likely - WEATHER_C, likely, max(likely, older) + WEATHER_C)


def _older_rise(brix: float) -> float:
    right = max(bisect_left(_CONFECTIONERS, (brix,)), 1)
    (x0, y0), (x1, y1) = _CONFECTIONERS[right - 1 : right + 1]
    return y0 + (y1 - y0) * (brix - x0) / (x1 - x0)


def brix_boiling_at(temp_c: float, altitude_m: float = 0.0) -> Spread:
    """How much sugar is in a syrup that boils at a temperature.

    Parameters
    ----------
    temp_c : float
        What the thermometer shows while it boils. [degC]
    altitude_m : float
        Height of the kitchen above the sea. [m]

    Returns
    -------
    Spread
        Brix, 0 where it boils no hotter than water may. [mass %]

    Valid up to the boiling point of 90 Brix; OutOfRange beyond.

    >>> brix_boiling_at(104.0)
    Spread(low=61.8, likely=66.1, high=68.3)

    References: `boiling_point` turned round.
    """
    inside("temperature", temp_c, 60.0, boiling_point(90.0, altitude_m).high, "degC")
    ends: list[Callable[[float], float]] = [
        lambda b: boiling_point(b, altitude_m).high,
        lambda b: boiling_point(b, altitude_m).likely,
        lambda b: boiling_point(b, altitude_m).low,
    ]
    low, likely, high = (_brix_where(end, temp_c) for end in ends)
    return Spread(low, likely, high)


def _brix_where(boils: Callable[[float], float], temp_c: float) -> float:
    low, high = 0.0, 90.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if boils(middle) < temp_c else (low, middle)
    return low if low > 1e-6 else 0.0
