"""How much of the sugar acid and warmth have split into glucose and fructose (inverted)."""

from math import exp

from assistant.calc.bounds import inside
from assistant.calc.spread import Spread
from assistant.calc.water import GAS_CONSTANT

RATE_25 = 3.6e-3
"""Rate at 25 degC for a mole of hydrogen ions in a litre, dilute strong acid: from memory, of this
order. [l/(mol min)]"""
RATE_FACTOR = 3.0
"""How many times faster or slower it may be: concentrated syrup goes faster. No source."""
ACTIVATION_J_MOL = 109_200.0
"""Tombari, Salvetti, Ferrari & Johari (2007), J. Phys. Chem. B 111, 496-501; another paper, 108."""
_WARM_K = 298.15


def inversion_rate(ph: float, temp_c: float) -> Spread:
    """The share of the sugar that inverts in a minute, at the start.

    Parameters
    ----------
    ph : float
        Of the syrup. [-]
    temp_c : float
        Its temperature. [degC]

    Returns
    -------
    Spread
        Rate of first order, three times either way. [1/min]

    Valid for pH 1.5 to 6 and -20 to 130 degC; OutOfRange outside.

    >>> inversion_rate(3.0, 25).likely
    0.0000036

    References: Tombari et al. (2007) for the activation energy; rate at 25 degC from memory.
    """
    inside("pH", ph, 1.5, 6.0)
    kelvin = inside("temperature", temp_c, -20.0, 130.0, "degC") + 273.15
    warmth = exp(-ACTIVATION_J_MOL / GAS_CONSTANT * (1 / kelvin - 1 / _WARM_K))
    likely = RATE_25 * 10.0**-ph * warmth
    return Spread(likely / RATE_FACTOR, likely, likely * RATE_FACTOR)


def inverted_share(ph: float, temp_c: float, days: float, already: float = 0.0) -> Spread:
    """The share of the sugar that is inverted after a time at a temperature.

    Parameters
    ----------
    ph : float
        Of the syrup. [-]
    temp_c : float
        Its temperature. [degC]
    days : float
        How long. [d]
    already : float
        Share inverted before. [-]

    Returns
    -------
    Spread
        Share from 0 to 1. [-]

    Valid as `inversion_rate`, 0 to 3650 days, shares 0 to 1; OutOfRange outside.

    >>> inverted_share(3.0, 20, 90)
    Spread(low=0.07, likely=0.20, high=0.48)

    References: as `inversion_rate`; first order in sugar.
    """
    inside("time", days, 0.0, 3650.0, "d")
    left = 1 - inside("inverted share", already, 0.0, 1.0)
    minutes = 1440 * days
    rate = inversion_rate(ph, temp_c)
    ends = (1 - left * exp(-each * minutes) for each in (rate.low, rate.likely, rate.high))
    return Spread(*ends)
