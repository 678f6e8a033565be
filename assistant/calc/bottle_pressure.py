"""The pressure in a sealed bottle whose sugar ferments."""

from math import exp

from assistant.calc.bounds import inside
from assistant.calc.density import density
from assistant.calc.spread import Spread
from assistant.calc.water import GAS_CONSTANT, WATER_MOLAR

CO2_PER_SUCROSE = 4.0
"""Moles of carbon dioxide from a mole of sucrose, all of it fermented: stoichiometry."""
SUCROSE_MOLAR = 342.297
"""Molar mass of sucrose: atomic weights. [g/mol]"""
IN_SYRUP = Spread(0.7, 0.85, 1.0)
"""How much of the gas that its water alone would hold syrup holds: no source. [-]"""


def henry_mpa(temp_c: float) -> float:
    """Henry's constant of carbon dioxide in water: its pressure over its mole fraction.

    Parameters
    ----------
    temp_c : float
        Temperature. [degC]

    Returns
    -------
    float
        Henry's constant. [MPa]

    Valid for 0 to 60 degC here; OutOfRange outside.

    >>> henry_mpa(25)
    162.0

    References: Carroll, Slupsky & Mather (1991), J. Phys. Chem. Ref. Data 20, 1201.
    """
    kelvin = inside("temperature", temp_c, 0.0, 60.0, "degC") + 273.15
    return exp(-6.8346 + 1.2817e4 / kelvin - 3.7668e6 / kelvin**2 + 2.997e8 / kelvin**3)


def dissolved_volumes(temp_c: float) -> float:
    """Volumes of gas, measured at 0 degC, that a volume of water takes up at one atmosphere.

    Parameters
    ----------
    temp_c : float
        Temperature. [degC]

    Returns
    -------
    float
        Absorption coefficient. [-]

    Valid as `henry_mpa`.

    >>> dissolved_volumes(20)
    0.89

    References: Carroll, Slupsky & Mather (1991).
    """
    moles_l = 0.101325 / henry_mpa(temp_c) * 1000 * density(0.0, temp_c) / WATER_MOLAR
    return moles_l * GAS_CONSTANT * 273.15 / 101.325


def bottle_pressure(
    liquid_ml: float, headspace_ml: float, brix: float, fermented_g_l: float, temp_c: float
) -> Spread:
    """The pressure over that of the air when so much sugar has fermented in a sealed bottle.

    Parameters
    ----------
    liquid_ml : float
        Syrup in it. [ml]
    headspace_ml : float
        Air above. [ml]
    brix : float
        Of the syrup. [mass %]
    fermented_g_l : float
        Sucrose that has fermented, in a litre of syrup. [g/l]
    temp_c : float
        Temperature. [degC]

    Returns
    -------
    Spread
        Pressure over the air's. [bar]

    Valid for 50 to 5000 ml, 1 to 5000 ml of air, 0 to 85 Brix, 0 to 100 g/l and 0 to 40 degC;
    OutOfRange outside.

    >>> bottle_pressure(500, 25, 62, 4.0, 20).likely
    2.5

    References: Henry's law with Carroll, Slupsky & Mather (1991); ideal gas; Gay-Lussac's equation
    of fermentation.
    """
    inside("syrup", liquid_ml, 50.0, 5000.0, "ml")
    inside("head space", headspace_ml, 1.0, 5000.0, "ml")
    inside("fermented sugar", fermented_g_l, 0.0, 100.0, "g/l")
    inside("temperature", temp_c, 0.0, 40.0, "degC")
    moles = fermented_g_l * liquid_ml / 1000 * CO2_PER_SUCROSE / SUCROSE_MOLAR
    water_mol = liquid_ml * density(brix, temp_c) * (1 - brix / 100) / WATER_MOLAR
    gas_mol_bar = 0.1 * headspace_ml / (GAS_CONSTANT * (temp_c + 273.15))

    def bar(held: float) -> float:
        return moles / (gas_mol_bar + held * water_mol * 0.1 / henry_mpa(temp_c))

    return Spread(bar(IN_SYRUP.high), bar(IN_SYRUP.likely), bar(IN_SYRUP.low))
