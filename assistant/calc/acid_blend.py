"""Mixtures poured together or thinned with water."""

from collections.abc import Iterable

from assistant.calc.acid import Mixture
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
