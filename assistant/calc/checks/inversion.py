"""The rate at which sugar inverts against what was once boiled and weighed."""

from math import log, log10

from assistant.calc.acid import of_grams, ph_of
from assistant.calc.answer import Check
from assistant.calc.inversion import inverted_share

_BOILED = (
    "Relative sweetness of invert sugar, J. Ind. Eng. Chem. (1922), abstract: syrup boiled with "
    "0.021 % tartaric acid was 67 % inverted after 20 min and 96 % after 40; taken as 108 degC and "
    "1.3 g/ml; a factor of 3 is 0.48"
)


def _rate_at_the_boil(minutes: float) -> float:
    """The decadic logarithm of the rate that so many minutes at the boil come to. [1/min]"""
    ph = ph_of(of_grams(tartaric=0.21 * 1.3))
    return _from_share(inverted_share(ph, 108.0, minutes / 1440).likely, minutes)


def _from_share(share: float, minutes: float) -> float:
    return log10(-log(1 - share) / minutes)


CHECKS: tuple[Check, ...] = (
    Check(
        "rate of inversion at the boil",
        _BOILED,
        "decades",
        _rate_at_the_boil,
        (((20,), _from_share(0.67, 20)), ((40,), _from_share(0.96, 40))),
        0.48,
        "independent",
        catches=0.5,
    ),
)
