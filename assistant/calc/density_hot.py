"""Density of syrup hotter than the published formula goes: for hot fill, with a spread."""

from assistant.calc.bounds import inside
from assistant.calc.density import MAX_TEMP_C, density, kell_density
from assistant.calc.spread import Spread

HOTTEST_C = 105.0
"""Hot fill and the end of boiling. [degC]"""
_FROM_C = 70.0
_PER_DEGREE = 0.0002
"""How far a density may be off for each degree past 80, as a share of itself: this project's own,
no source. [1/K]"""


def hot_density(brix: float, temp_c: float) -> Spread:
    """Density of a sucrose solution, past 80 degC by carrying the formula on.

    To 80 degC it is `density`. Past it, water follows its own formula, which holds to 150, and the
    ratio of syrup to water goes on as it went from 70 to 80.

    Parameters
    ----------
    brix : float
        Dissolved solids, reckoned as sucrose. [mass %]
    temp_c : float
        Temperature. [degC]

    Returns
    -------
    Spread
        Density, without a spread to 80 degC. [g/ml]

    Valid for 0 to 85 Brix and 0 to 105 degC; OutOfRange outside.

    >>> hot_density(60, 90)
    Spread(low=1.2424, likely=1.2448, high=1.2473)

    References: ICUMSA SPS-4 (1994) to 80 degC; Kell (1975), J. Chem. Eng. Data 20, 97, for water.
    """
    inside("temperature", temp_c, 0.0, HOTTEST_C, "degC")
    if temp_c <= MAX_TEMP_C:
        return Spread.exactly(density(brix, temp_c))
    at_70 = density(brix, _FROM_C) / kell_density(_FROM_C)
    at_80 = density(brix, MAX_TEMP_C) / kell_density(MAX_TEMP_C)
    ratio = at_80 + (at_80 - at_70) * (temp_c - MAX_TEMP_C) / (MAX_TEMP_C - _FROM_C)
    return Spread.within(ratio * kell_density(temp_c), _PER_DEGREE * (temp_c - MAX_TEMP_C))
