"""pH and titratable acidity of mixed weak acids, by charge balance.

A mixture holds each acid, whole or in pieces, and the strong ions beside it as one number: net
strong cations (potassium, sodium, calcium of the fruit, less chloride and the like). At the true
pH the charges cancel; the charge falls steadily as the pH rises, so bisection finds it.

Ions in company screen each other, which makes acids give their protons more readily: in a well
buffered juice the pH is 0.1 to 0.2 lower than with ideal ions. `ph_of` reckons with that; what is
left out is told in `acid_measure`.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from assistant.calc.acid_constants import (
    CITRIC_G_PER_EQUIVALENT,
    PKW,
    TITRATION_END_PH,
    acid_named,
)
from assistant.calc.bounds import inside

MOST_MOL_L = 3.0
"""Most of one acid, or of strong ions, that a mixture is reckoned with. [mol/l]"""
_LOWEST_PH, _HIGHEST_PH = -2.0, 16.0
_DAVIES_A = 0.509
"""Debye-Hueckel constant for water at 25 degC, decadic. [(kg/mol)^0.5]"""


@dataclass(frozen=True)
class Mixture:
    """Weak acids [mol/l] by name, and net strong cations [mol/l], negative for strong acid."""

    acids: Mapping[str, float] = field(default_factory=dict)
    cations: float = 0.0

    def __post_init__(self) -> None:
        for name, amount in self.acids.items():
            acid_named(name)
            inside(f"{name} acid", amount, 0.0, MOST_MOL_L, "mol/l")
        inside("strong ions", self.cations, -MOST_MOL_L, MOST_MOL_L, "mol/l")

    def plus(self, acid: str, mol_l: float) -> "Mixture":
        """The mixture with more of one acid, the volume taken as unchanged.

        >>> Mixture({"citric": 0.01}).plus("citric", 0.02).acids
        {'citric': 0.03}
        """
        return Mixture({**self.acids, acid: self.acids.get(acid, 0.0) + mol_l}, self.cations)


def of_grams(cations_mmol_l: float = 0.0, **grams_l: float) -> Mixture:
    """A mixture from grams of acid in a litre.

    Parameters
    ----------
    cations_mmol_l : float
        Net strong cations. [mmol/l]
    grams_l : float
        Each acid by name, as free acid without crystal water. [g/l]

    Returns
    -------
    Mixture
        The same in mol/l.

    Valid for 0 to 3 mol/l of each; OutOfRange outside, WrongUse for an unknown acid.

    >>> of_grams(citric=19.2123).acids
    {'citric': 0.1}

    References: molar masses from standard atomic weights.
    """
    amounts = {name: grams / acid_named(name).molar_mass for name, grams in grams_l.items()}
    return Mixture(amounts, cations_mmol_l / 1000)


def protons_lost(acid: str, ph: float, ionic_strength: float = 0.0) -> float:
    """The charge that a mole of acid carries at a pH: how many protons it has given away.

    Parameters
    ----------
    acid : str
        Its name. [-]
    ph : float
        pH, as an electrode shows it. [-]
    ionic_strength : float
        Of the solution, for activity after Davies; 0 for ideal. [mol/l]

    Returns
    -------
    float
        From 0 to the number of its protons. [mol/mol]

    Valid for pH -2 to 16 and ionic strength 0 to 0.5 mol/l; OutOfRange outside.

    >>> protons_lost("acetic", 4.756), protons_lost("citric", 8.2)
    (0.5, 2.98)

    References: Butler (1998), Ionic Equilibrium: Solubility and pH Calculations, Wiley, chapter 4;
    Davies (1962), Ion Association, Butterworths.
    """
    return sum(step * share for step, share in enumerate(stages(acid, ph, ionic_strength)))


def stages(acid: str, ph: float, ionic_strength: float = 0.0) -> tuple[float, ...]:
    """The shares of an acid that have lost no proton, one, two and so on.

    Parameters
    ----------
    acid : str
        Its name. [-]
    ph : float
        pH, as an electrode shows it. [-]
    ionic_strength : float
        Of the solution, for activity after Davies; 0 for ideal. [mol/l]

    Returns
    -------
    tuple[float, ...]
        Shares that add up to 1. [-]

    Valid for pH -2 to 16 and ionic strength 0 to 0.5 mol/l; OutOfRange outside.

    >>> stages("malic", 3.458)
    (0.494, 0.494, 0.011)

    References: as `protons_lost`.
    """
    inside("pH", ph, -2.0, 16.0)
    shift = log_activity(ionic_strength)
    weights = [1.0]
    for step, pka in enumerate(acid_named(acid).pka, start=1):
        exponent: float = ph - pka - (2 * step - 1) * shift
        weights.append(weights[-1] * math.pow(10.0, exponent))
    whole = sum(weights)
    return tuple(weight / whole for weight in weights)


def log_activity(ionic_strength: float) -> float:
    """The decadic logarithm of the activity coefficient of an ion of one charge, after Davies.

    Parameters
    ----------
    ionic_strength : float
        Of the solution. [mol/l]

    Returns
    -------
    float
        0 or negative; times the square of the charge for other ions. [-]

    Valid for 0 to 0.5 mol/l, the range Davies gives; OutOfRange outside.

    >>> log_activity(0.1)
    -0.107

    References: Davies (1962), Ion Association, Butterworths.
    """
    inside("ionic strength", ionic_strength, 0.0, 0.5, "mol/l")
    root = math.sqrt(ionic_strength)
    return -_DAVIES_A * (root / (1 + root) - 0.3 * ionic_strength)


def charge(mixture: Mixture, ph: float, ionic_strength: float = 0.0) -> float:
    """The net charge the mixture would have at a pH; its own pH is where that is nought.

    It is also the base needed to bring the mixture to that pH, with the sign turned.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]
    ph : float
        pH tried. [-]
    ionic_strength : float
        For activity after Davies; 0 for ideal. [mol/l]

    Returns
    -------
    float
        Positive charge less negative charge. [mol/l]

    Valid for pH -2 to 16; OutOfRange outside.

    >>> charge(Mixture({"acetic": 0.1}, cations=0.05), 4.756)
    0.000018

    References: Butler (1998), Ionic Equilibrium: Solubility and pH Calculations, Wiley, chapter 4.
    """
    inside("pH", ph, -2.0, 16.0)
    shift = log_activity(ionic_strength)
    water = 10.0 ** (-ph - shift) - 10.0 ** (ph - PKW - shift)
    lost = sum(c * protons_lost(acid, ph, ionic_strength) for acid, c in mixture.acids.items())
    return float(mixture.cations + water - lost)


def ionic_strength(mixture: Mixture, ph: float, at: float = 0.0) -> float:
    """Half the sum of concentration times charge squared, over all ions.

    Strong ions count as singly charged, as potassium is.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]
    ph : float
        Its pH. [-]
    at : float
        Ionic strength that sets how far the acids are dissociated. [mol/l]

    Returns
    -------
    float
        Ionic strength. [mol/l]

    Valid for pH -2 to 16; OutOfRange outside.

    >>> ionic_strength(Mixture({"acetic": 0.1}, cations=0.05), 4.756)
    0.05

    References: Lewis & Randall (1921), J. Am. Chem. Soc. 43, 1112.
    """
    shift = log_activity(at)
    water = 10.0 ** (-ph - shift) + 10.0 ** (ph - PKW - shift)
    acids = sum(
        c * share * step**2
        for name, c in mixture.acids.items()
        for step, share in enumerate(stages(name, ph, at))
    )
    return float((abs(mixture.cations) + water + acids) / 2)


def settled(make: Callable[[float], Mixture], ph: float) -> tuple[Mixture, float]:
    """The mixture that agrees with its own ionic strength at a pH.

    Parameters
    ----------
    make : Callable[[float], Mixture]
        Gives the mixture for an ionic strength. [mol/l]
    ph : float
        Its pH. [-]

    Returns
    -------
    tuple[Mixture, float]
        The mixture, and its ionic strength. [mol/l]

    Valid for ionic strength up to 0.5 mol/l; OutOfRange beyond.

    >>> settled(lambda strength: Mixture({"acetic": 0.1}, cations=0.05), 4.65)[1]
    0.05

    References: iteration to the fixed point, Butler (1998), Ionic Equilibrium, Wiley, chapter 2.
    """
    strength = 0.0
    for _ in range(100):
        mixture = make(strength)
        found = ionic_strength(mixture, ph, strength)
        if abs(found - strength) < 1e-10:
            break
        strength = found
    return mixture, strength


def ph_of(mixture: Mixture) -> float:
    """The pH of a mixture as an electrode shows it, with activity after Davies.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]

    Returns
    -------
    float
        pH at 25 degC. [-]

    Valid for ionic strength up to 0.5 mol/l; OutOfRange beyond.

    >>> ph_of(Mixture({"citric": 0.05}, cations=0.05)), ph_of(of_grams(citric=5))
    (3.77, 2.40)

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley; Davies (1962). Held
    against the 0.05 molal potassium dihydrogen citrate standard, pH 3.776 at 25 degC, J. Res.
    NBS 73A (1969) 37.
    """
    strength, ph = 0.0, ideal_ph(mixture)
    for _ in range(100):
        found = ionic_strength(mixture, ph, strength)
        if abs(found - strength) < 1e-10:
            break
        strength = found
        ph = _balanced(mixture, strength, max(ph - 1.0, _LOWEST_PH), min(ph + 1.0, _HIGHEST_PH))
    return ph


def _balanced(mixture: Mixture, ionic_strength: float, low: float, high: float) -> float:
    """Where the charges cancel between two pH, by bisection; activity never moves it by one."""
    while high - low > 1e-11:
        middle = (low + high) / 2
        if charge(mixture, middle, ionic_strength) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def ideal_ph(mixture: Mixture, ionic_strength: float = 0.0) -> float:
    """The pH of a mixture with a given ionic strength, or with ideal ions.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]
    ionic_strength : float
        For activity after Davies; 0 for ideal. [mol/l]

    Returns
    -------
    float
        pH at 25 degC. [-]

    Valid for 0 to 3 mol/l of each part and ionic strength 0 to 0.5 mol/l; OutOfRange outside.

    >>> ideal_ph(Mixture({"acetic": 0.1})), ideal_ph(of_grams(citric=5))
    (2.88, 2.40)

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley; found by bisection.
    """
    return _balanced(mixture, ionic_strength, _LOWEST_PH, _HIGHEST_PH)


def titratable_acidity(mixture: Mixture, end_ph: float = TITRATION_END_PH) -> float:
    """The acidity that a titration with base would find.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]
    end_ph : float
        pH at which the titration stops. [-]

    Returns
    -------
    float
        Acidity as citric acid without crystal water; negative above the end point. [g/l]

    Valid for end points from pH 7 to 9; OutOfRange outside.

    >>> titratable_acidity(of_grams(citric=10))
    9.95

    References: ISO 750 for the method (end point 8.1 to 8.2); charge balance for the value.
    """
    inside("end point", end_ph, 7.0, 9.0)
    return -charge(mixture, end_ph) * CITRIC_G_PER_EQUIVALENT
