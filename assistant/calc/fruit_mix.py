"""Several fruits as one: what a mixture holds, by the weight of each. Mass balance."""

from collections.abc import Callable, Mapping

from assistant.calc.acid import protons_lost
from assistant.calc.acid_constants import CITRIC_G_PER_EQUIVALENT, TITRATION_END_PH, acid_named
from assistant.calc.bounds import inside
from assistant.calc.fruits import Acidity, Fruit, fruit
from assistant.calc.spread import Spread

_STRICTEST: tuple[Acidity, ...] = ("acid", "borderline", "low-acid")
USUAL_WATER = 86.0
"""Water of a fruit whose own is not known: the middle of the berries in USDA SR26. [g per 100 g]"""


def mixed(weights: Mapping[str, float]) -> Fruit | None:
    """The figures of several fruits crushed together.

    Parameters
    ----------
    weights : Mapping[str, float]
        Each fruit of the table and its mass. [g]

    Returns
    -------
    Fruit | None
        Water, solids and acid by mass, the acid as that of the one that brings the most; the pH
        from the lowest to the highest of any, and the class of the least sour. None where one of
        them is not in the table. A figure that one of them lacks is not known of the whole.

    Valid for masses from 0, not all 0; OutOfRange outside.

    >>> found = mixed({"raspberry": 500, "strawberry": 500})
    >>> found.brix().likely, found.acidity
    (9.2, 1.6)

    References: conservation of mass, over the fruit table's figures.
    """
    total = inside("fruit", sum(weights.values()), 1e-9, 1e9, "g")
    found = {name: fruit(name) for name in weights}
    known = {name: one for name, one in found.items() if one is not None}
    if len(known) < len(found):
        return None
    shares = [(one, weights[name] / total) for name, one in known.items()]
    water = sum((one.water or USUAL_WATER) * share for one, share in shares)
    acidity, main = _acidity(shares)
    return Fruit(
        name=" and ".join(one.name for one, _ in shares),
        acidity_class=max((one.acidity_class for one, _ in shares), key=_STRICTEST.index),
        water=water,
        ph_low=_end([one.ph_low for one, _ in shares], min),
        ph_high=_end([one.ph_high for one, _ in shares], max),
        acidity=acidity,
        main_acid=main,
        juice_spread=_brix(shares),
    )


def _end(values: list[float | None], pick: Callable[[list[float]], float]) -> float | None:
    known = [value for value in values if value is not None]
    return pick(known) if len(known) == len(values) else None


def _brix(shares: list[tuple[Fruit, float]]) -> Spread:
    """Solids over liquor of all of them, at each end of their spreads. [mass %]"""

    def at(brix: list[float]) -> float:
        solids = liquor = 0.0
        for (one, share), own in zip(shares, brix, strict=True):
            mass = share * (one.water or USUAL_WATER) / (1 - own / 100)
            solids, liquor = solids + mass * own / 100, liquor + mass
        return 100 * solids / liquor

    own = [one.brix() for one, _ in shares]
    return Spread(at([b.low for b in own]), at([b.likely for b in own]), at([b.high for b in own]))


def _acidity(shares: list[tuple[Fruit, float]]) -> tuple[float | None, str | None]:
    """All acid as that of which there is most; None where one of them has no figure. [g/100 g]"""
    by_acid: dict[str, float] = {}
    for one, share in shares:
        if one.acidity is None or one.main_acid is None:
            return None, None
        main = one.main_acid.split("/")[0]
        as_citric = one.acidity * share * CITRIC_G_PER_EQUIVALENT / _equivalent_g(main)
        by_acid[main] = by_acid.get(main, 0.0) + as_citric
    most = max(by_acid, key=lambda name: by_acid[name])
    return sum(by_acid.values()) * _equivalent_g(most) / CITRIC_G_PER_EQUIVALENT, most


def _equivalent_g(acid: str) -> float:
    """What one equivalent of an acid weighs, titrated to the usual end. [g/mol]"""
    return acid_named(acid).molar_mass / protons_lost(acid, TITRATION_END_PH)
