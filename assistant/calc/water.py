"""How much of the water is free: solubility, crystals, water activity."""

from math import exp

from assistant.calc.bounds import inside

_SOLUBILITY = (64.447, 0.08222, 0.0016169, -1.558e-6, -4.63e-8)
WATER_MOLAR = 18.0153
"""Molar mass of water. [g/mol]"""
SUCROSE_MOLAR = 342.297
"""Molar mass of sucrose. [g/mol]"""
SUCROSE_K = 6.47
"""Norrish constant of sucrose. Chirife, Favetto & Ferro Fontan (1982), from memory; the equation
is in Baeza et al., Food Bioprocess Technol 3 (2010) 87-92."""


def sucrose_solubility(temp_c: float) -> float:
    """Sucrose in a saturated solution in pure water.

    Bubnik & Kadlec in Mathlouthi & Reiser (eds), Sucrose (1995). Other tables lie up to 0.4 higher
    at 20 degC.
    temp_c : temperature [degC], 0 to 100
    Returns the solubility [mass %]; OutOfRange outside.

    >>> sucrose_solubility(20)
    66.72
    """
    t = inside("temperature", temp_c, 0.0, 100.0, "degC")
    share: float = sum(c * t**n for n, c in enumerate(_SOLUBILITY))
    return share


def activity_sucrose(brix: float) -> float:
    """Water activity of a sucrose solution at about 25 degC. Norrish's equation, K 6.47.

    brix : sucrose [mass %], 0 to 75
    Returns the water activity [-]; OutOfRange outside.

    >>> activity_sucrose(65)
    0.8654
    """
    brix = inside("Brix", brix, 0.0, 75.0)
    sucrose, water = brix / SUCROSE_MOLAR, (100 - brix) / WATER_MOLAR
    share = sucrose / (sucrose + water)
    return (1 - share) * exp(-SUCROSE_K * share**2)


def saturation(brix: float, temp_c: float, inverted_share: float = 0.0) -> float:
    """Sucrose per water, over what dissolves at that temperature.

    brix : dissolved solids [mass %], 0 to 99; temp_c : temperature [degC], 0 to 100
    inverted_share : share of the solids that is invert sugar by now [-], 0 to 1
    Returns the ratio [-]: 1 is saturated. OutOfRange outside.

    >>> saturation(66.72, 20)
    1.00
    """
    solids = inside("Brix", brix, 0.0, 99.0)
    sucrose = solids * (1 - inside("inverted share", inverted_share, 0.0, 1.0))
    full = sucrose_solubility(temp_c)
    return sucrose / (100 - solids) / (full / (100 - full))


def will_crystallise(brix: float, temp_c: float, inverted_share: float = 0.0) -> bool:
    """Whether sucrose may come out of solution at a temperature, given time.

    brix, temp_c, inverted_share : as for `saturation`
    Returns True past saturation; OutOfRange outside.

    >>> will_crystallise(70, 20), will_crystallise(65, 20)
    (True, False)
    """
    return saturation(brix, temp_c, inverted_share) > 1.0
