"""Mixtures poured together or thinned with water."""

from collections.abc import Iterable, Mapping

from assistant.calc.acid import Mixture, protons_lost, titratable_acidity
from assistant.calc.acid_constants import CITRIC_G_PER_EQUIVALENT, TITRATION_END_PH, acid_named
from assistant.calc.bounds import inside


def blend(*parts: tuple[Mixture, float]) -> Mixture:
    """Mixtures poured together, the volumes added.

    Parameters
    ----------
    parts : tuple[Mixture, float]
        Each mixture with its volume. [l]

    Returns
    -------
    Mixture
        The whole.

    Valid for volumes from 0, not all 0; OutOfRange outside.

    >>> blend((Mixture({"citric": 0.1}), 1.0), (Mixture({"malic": 0.1}), 3.0)).acids
    {'citric': 0.025, 'malic': 0.075}

    References: conservation of mass.
    """
    for _, volume_l in parts:
        inside("volume", volume_l, 0.0, 1e6, "l")
    total = inside("volume", sum(v for _, v in parts), 1e-9, 1e7, "l")
    names = dict.fromkeys(name for m, _ in parts for name in m.acids)
    acids = {n: _mean((m.acids.get(n, 0.0), v) for m, v in parts) / total for n in names}
    return Mixture(acids, _mean((m.cations, v) for m, v in parts) / total)


def _mean(weighted: Iterable[tuple[float, float]]) -> float:
    return sum(value * weight for value, weight in weighted)


def diluted(mixture: Mixture, times: float) -> Mixture:
    """A mixture made up with water to so many times its volume.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]
    times : float
        Volume afterwards over volume before; 2 for equal parts. [-]

    Returns
    -------
    Mixture
        The thinner one.

    Valid for 1 to 1000 times; OutOfRange outside.

    >>> diluted(Mixture({"citric": 0.1}), 4).acids
    {'citric': 0.025}

    References: conservation of mass.
    """
    inside("dilution", times, 1.0, 1000.0, "times")
    return blend((mixture, 1.0), (Mixture(), times - 1.0))


def acids_for_acidity(
    mixture: Mixture, parts: Mapping[str, float], target_g_l: float
) -> dict[str, float]:
    """Several acids in given proportions that bring a mixture up to a titratable acidity.

    Parameters
    ----------
    mixture : Mixture
        What is in the pan. [mol/l]
    parts : Mapping[str, float]
        Each acid to add and how many parts of it by weight, as 2 of citric to 1 of malic. [g/g]
    target_g_l : float
        Acidity wanted, to pH 8.2, as citric acid. [g/l]

    Returns
    -------
    dict[str, float]
        Each acid, without crystal water; all 0 where the acidity is there already. [g/l]

    Valid for targets 0 to 150 g/l and parts from 0, not all 0; OutOfRange outside, WrongUse for an
    unknown acid.

    >>> acids_for_acidity(Mixture(), {"citric": 2, "malic": 1}, 6.0)
    {'citric': 4.0, 'malic': 2.0}

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley; method ISO 750.
    """
    inside("target acidity", target_g_l, 0.0, 150.0, "g/l")
    whole = sum(inside(f"parts of {name} acid", n, 0.0, 1e6) for name, n in parts.items())
    inside("parts of acid", whole, 1e-9, 1e7)
    missing = max(target_g_l - titratable_acidity(mixture), 0.0) / CITRIC_G_PER_EQUIVALENT
    each_g = sum(n / whole * _equivalents_per_g(name) for name, n in parts.items())
    return {name: missing / each_g * n / whole for name, n in parts.items()}


def _equivalents_per_g(acid: str) -> float:
    return protons_lost(acid, TITRATION_END_PH) / acid_named(acid).molar_mass
