"""The natural buffering of a fruit from its pH and acidity, and acid doses for a target.

A fruit's own acids are taken as one main acid; what is left to explain the measured pH is net
strong cations, mostly potassium. Acid, cations and dose then follow without a search, since the
charge at a given pH is linear in every amount; only the ionic strength is settled in rounds.
"""

import math

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc.acid import (
    Mixture,
    charge,
    ph_of,
    protons_lost,
    settled,
    titratable_acidity,
)
from assistant.calc.acid_blend import blend
from assistant.calc.acid_constants import (
    CITRIC_G_PER_EQUIVALENT,
    TITRATION_END_PH,
    acid_named,
)
from assistant.calc.acid_measure import METER_PH
from assistant.calc.bounds import inside
from assistant.calc.fruits import Fruit, fruit
from assistant.calc.spread import Spread, carry

FIT_PH = (1.5, 5.2)
"""The pH at which fruit acids alone explain a juice. [-]"""
FRUIT_CATIONS_MOL_L = 0.15
"""Strong cations that no fruit juice passes by much: blackcurrant, rich in it, has potassium of
0.082 mol/kg (USDA, from memory). It keeps a guess at high pH from buffering without end. [mol/l]"""
TITRATION_SHARE = 0.05
"""How far a kitchen titration may be off, of itself: drops and the last pink, no source."""
PKA_UNSURE = 0.1
"""How far the constants of a fruit's acids may be off: tables differ by so much, and the main acid
stands for all. It moves the reading and the target alike. [-]"""
FRUIT_ACIDITY_SHARE = 0.4
"""Ripeness and kind move the acidity of a fruit by about this share of itself, each way: common
practice, no source."""


def fitted(ph: float, acidity_g_l: float, main_acid: str = "citric") -> Mixture:
    """The mixture of one acid and strong cations that has a measured pH and acidity.

    Parameters
    ----------
    ph : float
        Measured pH. [-]
    acidity_g_l : float
        Titratable acidity to pH 8.2, as citric acid. [g/l]
    main_acid : str
        The acid that stands for all. [-]

    Returns
    -------
    Mixture
        What behaves like the juice or syrup.

    Valid for pH 1.5 to 5.2, 0.1 to 150 g/l and ionic strength up to 0.5 mol/l; OutOfRange outside,
    and where the pH is lower than so little of the acid alone could make it. In less acid juice
    phosphate and protein hold the pH too.

    >>> fitted(3.2, 20).cations
    0.08

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley; activity after Davies.
    """
    inside("pH", ph, *FIT_PH)
    inside("acidity", acidity_g_l, 0.1, 150.0, "g/l")
    mixture, _ = settled(lambda strength: _matching(ph, acidity_g_l, main_acid, strength), ph)
    if mixture.cations < 0:
        lowest = ph_of(_acid_alone(acidity_g_l, main_acid))
        raise OutOfRange(f"pH with {acidity_g_l:g} g/l of acid", ph, lowest, 7.0)
    return mixture


def _matching(ph: float, acidity_g_l: float, main_acid: str, strength: float) -> Mixture:
    """Acid from the base a titration takes from this pH to its end; cations from the charge."""
    base = acidity_g_l / CITRIC_G_PER_EQUIVALENT
    water = charge(Mixture(), ph, strength) - charge(Mixture(), TITRATION_END_PH)
    lost = protons_lost(main_acid, ph, strength)
    step = protons_lost(main_acid, TITRATION_END_PH) - lost
    acid = Mixture({main_acid: max(base - water, 0.0) / step})
    return Mixture(acid.acids, -charge(acid, ph, strength))


def _acid_alone(acidity_g_l: float, main_acid: str) -> Mixture:
    base = acidity_g_l / CITRIC_G_PER_EQUIVALENT
    return Mixture({main_acid: base / protons_lost(main_acid, TITRATION_END_PH)})


def acid_for_ph(mixture: Mixture, acid: str, target_ph: float) -> float:
    """Acid that brings a mixture down to a pH.

    Parameters
    ----------
    mixture : Mixture
        What is in the pan. [mol/l]
    acid : str
        The acid to add. [-]
    target_ph : float
        pH wanted. [-]

    Returns
    -------
    float
        Free acid without crystal water; 0 where the pH is there already. [g/l]

    Valid for targets 2 to 7 that take up to 150 g/l; OutOfRange outside. The volume is taken as
    unchanged, which holds within 1 % to about 15 g/l.

    >>> acid_for_ph(fitted(3.8, 8), "citric", 3.3)
    5.9

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley; activity after Davies.
    """
    inside("target pH", target_ph, 2.0, 7.0)
    molar_mass = acid_named(acid).molar_mass

    def with_enough(strength: float) -> Mixture:
        missing = max(charge(mixture, target_ph, strength), 0.0)
        moles = missing / protons_lost(acid, target_ph, strength)
        inside(f"{acid} acid", moles * molar_mass, 0.0, 150.0, "g/l")
        return mixture.plus(acid, moles)

    after, _ = settled(with_enough, target_ph)
    return (after.acids[acid] - mixture.acids.get(acid, 0.0)) * molar_mass


def acid_for_acidity(mixture: Mixture, acid: str, target_g_l: float) -> float:
    """Acid that brings a mixture up to a titratable acidity.

    Parameters
    ----------
    mixture : Mixture
        What is in the pan. [mol/l]
    acid : str
        The acid to add. [-]
    target_g_l : float
        Acidity wanted, to pH 8.2, as citric acid. [g/l]

    Returns
    -------
    float
        Free acid without crystal water; 0 where the acidity is there already. [g/l]

    Valid for targets 0 to 150 g/l; OutOfRange outside.

    >>> acid_for_acidity(fitted(3.3, 8), "citric", 12)
    4.0

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley.
    """
    inside("target acidity", target_g_l, 0.0, 150.0, "g/l")
    missing = (target_g_l - titratable_acidity(mixture)) / CITRIC_G_PER_EQUIVALENT
    return max(missing, 0.0) / protons_lost(acid, TITRATION_END_PH) * acid_named(acid).molar_mass


def pour_for_ph(mixture: Mixture, volume_l: float, sour: Mixture, target_ph: float) -> float:
    """How much of a sour liquid, lemon juice or vinegar, brings a batch down to a pH.

    Parameters
    ----------
    mixture : Mixture
        What is in the pan. [mol/l]
    volume_l : float
        How much of it. [l]
    sour : Mixture
        The sour liquid. [mol/l]
    target_ph : float
        pH wanted. [-]

    Returns
    -------
    float
        Sour liquid to pour in; 0 where the pH is there already. [l]

    Valid for targets 2 to 7 that lie above the pH of the sour liquid; OutOfRange outside.

    >>> pour_for_ph(fitted(3.8, 8), 1.0, fitted(2.3, 50), 3.3)
    0.139

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley.
    """
    inside("target pH", target_ph, 2.0, 7.0)
    inside("volume", volume_l, 0.001, 10_000.0, "l")
    if ph_of(sour) >= target_ph:
        raise OutOfRange("target pH", target_ph, ph_of(sour), 7.0)

    def parts(strength: float) -> float:
        missing = max(charge(mixture, target_ph, strength), 0.0)
        return missing / -charge(sour, target_ph, strength)

    _, strength = settled(lambda at: blend((mixture, 1.0), (sour, parts(at))), target_ph)
    return volume_l * parts(strength)


def dose_spread(
    ph: float,
    acidity_g_l: Spread | float,
    target_ph: float,
    acid: str = "citric",
    main_acid: str = "citric",
    ph_unsure: float = METER_PH,
) -> Spread:
    """Acid for a target pH when acidity and pH are known only within a spread.

    Parameters
    ----------
    ph : float
        Measured pH. [-]
    acidity_g_l : Spread | float
        Titratable acidity as citric acid, with its spread if unsure. [g/l]
    target_ph : float
        pH wanted. [-]
    acid : str
        The acid to add. [-]
    main_acid : str
        The acid that stands for the fruit's own. [-]
    ph_unsure : float
        How far the pH may be off. [-]

    Returns
    -------
    Spread
        Free acid, low, likely and high. [g/l]

    Valid as `fitted` and `acid_for_ph`. Corners where pH and acidity do not go together are taken
    as `nearest` does. A measured acidity has the doubt of its titration, and constants have theirs.

    >>> dose_spread(3.8, Spread(6, 8, 10), 3.3)
    Spread(low=3.2, likely=5.9, high=9.8)

    References: corners of the inputs, since the dose rises with each.
    """
    inside("unsureness of the pH", ph_unsure, 0.0, 1.0)
    inside("target pH", target_ph, 2.0, 7.0)
    for read in (ph - ph_unsure, ph + ph_unsure):
        inside("pH", read, *FIT_PH)
    most = cations_within(acidity_g_l)
    acidity = titrated(acidity_g_l)

    def dose(at: float, acid_g_l: float, shift: float) -> float:
        was = nearest(_between(at + shift, FIT_PH), acid_g_l, main_acid, most)
        return acid_for_ph(was, acid, _between(target_ph + shift, (2.0, 7.0)))

    shown = Spread(ph - ph_unsure, ph, ph + ph_unsure)
    return carry(dose, shown, acidity, Spread(-PKA_UNSURE, 0.0, PKA_UNSURE))


def titrated(acidity_g_l: Spread | float) -> Spread:
    """An acidity with its doubt: a measured one may be off by what a kitchen titration is.

    Parameters
    ----------
    acidity_g_l : Spread | float
        Titratable acidity, a number or a spread without width where it was measured. [g/l]

    Returns
    -------
    Spread
        The same with a width. [g/l]

    >>> titrated(8.0)
    Spread(low=7.6, likely=8.0, high=8.4)

    References: see `TITRATION_SHARE`.
    """
    spread = acidity_g_l if isinstance(acidity_g_l, Spread) else Spread.exactly(acidity_g_l)
    if spread.low < spread.high:
        return spread
    return Spread.within(spread.likely, TITRATION_SHARE)


def _between(ph: float, ends: tuple[float, float]) -> float:
    return min(max(ph, ends[0]), ends[1])


def cations_within(acidity_g_l: Spread | float) -> float:
    """The cations not to pass: those of fruit where the acidity is a guess, any where measured.

    Parameters
    ----------
    acidity_g_l : Spread | float
        Titratable acidity, a number or a spread without width where it was measured. [g/l]

    Returns
    -------
    float
        Net strong cations. [mol/l]

    >>> cations_within(8.0), cations_within(Spread(6, 8, 10))
    (inf, 0.15)

    References: see `FRUIT_CATIONS_MOL_L`.
    """
    guessed = isinstance(acidity_g_l, Spread) and acidity_g_l.low < acidity_g_l.high
    return FRUIT_CATIONS_MOL_L if guessed else math.inf


def nearest(
    ph: float, acidity_g_l: float, main_acid: str = "citric", most_cations: float = math.inf
) -> Mixture:
    """The fit, or what comes nearest where pH and acidity do not go together.

    Too low a pH for so little acid gives that acid alone; so high a pH that it asks for more
    cations than a fruit has gives less acid.

    Parameters
    ----------
    ph : float
        Measured pH, within its unsureness. [-]
    acidity_g_l : float
        Titratable acidity to pH 8.2, as citric acid, within its spread. [g/l]
    main_acid : str
        The acid that stands for all. [-]
    most_cations : float
        Net strong cations not to pass. [mol/l]

    Returns
    -------
    Mixture
        What comes nearest.

    Valid as `fitted`.

    >>> nearest(2.0, 5).cations, nearest(4.4, 20, most_cations=0.15).cations
    (0.0, 0.15)

    References: as `fitted`.
    """
    inside("pH", ph, *FIT_PH)
    alone = _acid_alone(acidity_g_l, main_acid)
    if ph <= ph_of(alone):
        return alone
    if math.isfinite(most_cations):
        capped = _with_cations(ph, most_cations, main_acid)
        if titratable_acidity(capped) <= acidity_g_l:
            return capped
    return fitted(ph, acidity_g_l, main_acid)


def _with_cations(ph: float, cations: float, main_acid: str) -> Mixture:
    """As much of the acid as makes that pH beside those cations."""
    salt = Mixture({}, cations)

    def make(strength: float) -> Mixture:
        lost = protons_lost(main_acid, ph, strength)
        return salt.plus(main_acid, charge(salt, ph, strength) / lost)

    return settled(make, ph)[0]


def fruit_acidity(of: str | Fruit, juice_share: float = 1.0) -> tuple[Spread, str]:
    """The typical acidity of a fruit's juice, or of a syrup with so much juice in it.

    Parameters
    ----------
    of : str | Fruit
        A fruit of the table, by its key, or the figures of one. [-]
    juice_share : float
        Volume of juice in a volume of syrup. [-]

    Returns
    -------
    tuple[Spread, str]
        Titratable acidity as citric acid [g/l], and the main acid of the fruit [-].

    Valid for shares 0.02 to 1; OutOfRange outside, WrongUse where no acidity is known. Grams in
    100 g of fruit are taken as grams in 100 ml of juice, which is within the spread.

    >>> fruit_acidity("raspberry", 0.5)
    (Spread(low=6.3, likely=10.5, high=14.7), 'citric')

    References: the fruit table, after Belitz, Grosch & Schieberle, Food Chemistry, table 18.3.
    """
    inside("share of juice", juice_share, 0.02, 1.0)
    found = fruit(of) if isinstance(of, str) else of
    if found is None or found.acidity is None or found.main_acid is None:
        name = of if isinstance(of, str) else of.name
        raise WrongUse(f"no acidity is known for {name!r}: measure it, or try acid on a sample")
    main = found.main_acid.split("/")[0]
    acid = acid_named(main)
    equivalent = acid.molar_mass / protons_lost(main, TITRATION_END_PH)
    as_citric = found.acidity * 10 * CITRIC_G_PER_EQUIVALENT / equivalent
    return Spread.within(as_citric * juice_share, FRUIT_ACIDITY_SHARE), main
