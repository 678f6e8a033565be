"""How much of the water is free: water activity, solubility, crystals."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, inf, prod, sqrt

from assistant.base.errors import WrongUse
from assistant.calc.bounds import inside
from assistant.calc.spread import Spread

WATER_MOLAR = 18.0153
"""Molar mass of water. [g/mol]"""
MAX_SOLIDS = 75.0
"""Most that may be dissolved for the water activity to be worth giving. [mass %]"""
MAX_SUCROSE = 90.0
"""Most sucrose, alone, for its water activity to be worth giving. [mass %]"""
MEASURED_WITHIN = 0.005
"""Measurements of strong solutions part by about this, from memory. [-]"""
GAS_CONSTANT = 8.314462618
"""CODATA 2018, exact. [J/(mol K)]"""
_STARZAK_Q, _STARZAK_A, _STARZAK_B = -17638.0, -1.0038, -0.24653


@dataclass(frozen=True)
class Solute:
    """Something dissolved: molar mass [g/mol] and Norrish constant K [-]."""

    molar: float
    k: float


SOLUTES: Mapping[str, Solute] = {
    "sucrose": Solute(342.297, 6.47),
    "glucose": Solute(180.156, 2.25),
    "fructose": Solute(180.156, 2.15),
    "glycerin": Solute(92.094, 1.16),
    "citric_acid": Solute(192.124, 6.17),
    "tartaric_acid": Solute(150.087, 4.68),
    "malic_acid": Solute(134.087, 1.82),
}
"""Norrish constants. Fructose and glycerin: after Ferro Fontan, Chirife & Boquet. The others from
memory: Chirife & Ferro Fontan (1980), Chirife, Favetto & Ferro Fontan (1982)."""

_SOLUBILITY = (64.447, 0.08222, 0.0016169, -1.558e-6, -4.63e-8)
INVERT_CROWDING = 0.15
"""How much less sucrose dissolves per water for each part of invert sugar per part of water: half
inverted syrup is sold at 76 to 77 % solids because it stays clear there. Common practice, no
source; set on the strict side. [-]"""


def activity_sucrose(brix: float, temp_c: float = 25.0) -> float:
    """Water activity of a sucrose solution, by a fit to a century of measurements.

    ln gamma = Q / RT x^2 (1 + a x + b x^2), x the mole fraction of sucrose. Norrish's equation
    agrees to 65 Brix and is 0.005 too low, that is too hopeful, at 75.

    Parameters
    ----------
    brix : float
        Sucrose. [mass %]
    temp_c : float
        Temperature; it hardly matters below 80 Brix. [degC]

    Returns
    -------
    float
        Water activity. [-]

    Valid for 0 to 90 Brix and 0 to 130 degC; OutOfRange outside.

    >>> activity_sucrose(65), activity_sucrose(75)
    (0.8654, 0.7709)

    References: Starzak & Peacock (1997), Zuckerindustrie 122, 380 (pages from memory): Q -17638
    J/mol, a -1.0038, b -0.24653.
    """
    solids = inside("Brix", brix, 0.0, MAX_SUCROSE)
    kelvin = inside("temperature", temp_c, 0.0, 130.0, "degC") + 273.15
    moles = solids / SOLUTES["sucrose"].molar
    x = moles / (moles + (100 - solids) / WATER_MOLAR)
    pull = _STARZAK_Q / (GAS_CONSTANT * kelvin) * x**2
    return (1 - x) * exp(pull * (1 + _STARZAK_A * x + _STARZAK_B * x**2))


def activity(water_g: float, solutes_g: Mapping[str, float]) -> Spread:
    """Water activity of a mixture at about 25 degC, between two ways of mixing.

    Likely: Norrish (1966), ln aw = ln Xw - (sum of sqrt(K) X)^2, mended by as much as it misses
    where the sucrose is alone in all the water. High, the stricter side: Ross (1975), the product
    of what each solute would do alone in all the water, and what measurements are unsure by.
    water_g : water [g]; solutes_g : what is dissolved in it [g], by name: those of `SOLUTES` and
    "invert" (half glucose, half fructose). Together at most 75 % of the mass.
    Returns the water activity with its spread [-]; OutOfRange outside, WrongUse for another name.

    >>> aw = activity(40, {"sucrose": 40, "invert": 20})
    >>> aw.likely, aw.high
    (0.875, 0.892)
    """
    parts = _spelled_out(solutes_g)
    inside("water", water_g, 1e-9, inf, "g")
    total = sum(parts.values())
    inside("dissolved solids", 100 * total / (total + water_g), 0.0, MAX_SOLIDS, "%")
    likely = min(_norrish(water_g, parts) * _missed(water_g, parts), 1.0)
    ross = prod(_alone(water_g, name, grams) for name, grams in parts.items())
    unsure = min(MEASURED_WITHIN, 0.05 * (1 - likely))
    return Spread(likely - unsure, likely, min(max(likely, ross) + unsure, 1.0))


def _alone(water_g: float, name: str, grams: float) -> float:
    if name == "sucrose":
        return activity_sucrose(100 * grams / (grams + water_g))
    return _norrish(water_g, {name: grams})


def _missed(water_g: float, parts: Mapping[str, float]) -> float:
    """What Norrish's equation misses for the sucrose alone, as a ratio."""
    sucrose = parts.get("sucrose", 0.0)
    return _alone(water_g, "sucrose", sucrose) / _norrish(water_g, {"sucrose": sucrose})


def sucrose_solubility(temp_c: float) -> float:
    """Sucrose in a saturated solution in pure water.

    Bubnik & Kadlec in Mathlouthi & Reiser (eds), Sucrose (1995). The older table (Antokolskaya
    1964) lies 0.4 higher at 20 degC and 0.3 lower at 0 degC.
    temp_c : temperature [degC], 0 to 100
    Returns the solubility [mass %]; OutOfRange outside.

    >>> sucrose_solubility(20)
    66.72
    """
    t = inside("temperature", temp_c, 0.0, 100.0, "degC")
    share: float = sum(c * t**n for n, c in enumerate(_SOLUBILITY))
    return share


def saturation(brix: float, temp_c: float, inverted_share: float = 0.0) -> float:
    """Sucrose per water, over what dissolves at that temperature beside the invert sugar.

    Source: `sucrose_solubility`; the room that invert sugar takes is a rule of ours.
    brix : dissolved solids [mass %], 0 to 85; temp_c : temperature [degC], 0 to 100
    inverted_share : share of the solids that is invert sugar by now [-], 0 to 1
    Returns the ratio [-]: past 1 sucrose may crystallise. OutOfRange outside.

    >>> saturation(66.72, 20), saturation(70, 20, inverted_share=0.3)
    (1.00, 0.91)
    """
    solids = inside("Brix", brix, 0.0, 85.0)
    invert = solids * inside("inverted share", inverted_share, 0.0, 1.0)
    water = 100 - solids
    full = sucrose_solubility(temp_c)
    room = max(1 - INVERT_CROWDING * invert / water, 0.25)
    return (solids - invert) / water / (full / (100 - full) * room)


def will_crystallise(brix: float, temp_c: float, inverted_share: float = 0.0) -> bool:
    """Whether sucrose may come out of solution at a temperature, given time.

    brix, temp_c, inverted_share : as for `saturation`, whose source and range hold
    Returns True past saturation; OutOfRange outside.

    >>> will_crystallise(70, 20), will_crystallise(65, 20)
    (True, False)
    """
    return saturation(brix, temp_c, inverted_share) > 1.0


def _spelled_out(solutes_g: Mapping[str, float]) -> dict[str, float]:
    parts: dict[str, float] = {}
    for name, grams in solutes_g.items():
        inside(name, grams, 0.0, inf, "g")
        for plain in ("glucose", "fructose") if name == "invert" else (name,):
            if plain not in SOLUTES:
                known = ", ".join((*SOLUTES, "invert"))
                raise WrongUse(
                    f"no water activity constant for {plain!r}; there is one for {known}"
                )
            parts[plain] = parts.get(plain, 0.0) + (grams / 2 if name == "invert" else grams)
    return parts


def _norrish(water_g: float, parts: Mapping[str, float]) -> float:
    water = water_g / WATER_MOLAR
    moles = {name: grams / SOLUTES[name].molar for name, grams in parts.items()}
    total = water + sum(moles.values())
    pull = sum(sqrt(SOLUTES[name].k) * n / total for name, n in moles.items())
    return water / total * exp(-(pull**2))
