"""How big a batch: from the fruit in hand, the bottles wanted, or the pan there is."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor, pi
from typing import Literal

from assistant.calc.bounds import inside
from assistant.calc.density import volume
from assistant.calc.spread import Spread

Heat = Literal["cold", "heated", "boiling", "foaming"]

FILL_SHARE: dict[Heat, float] = {"cold": 0.9, "heated": 0.75, "boiling": 0.5, "foaming": 1 / 3}
"""How full a pan may be, as a share of what it holds. `heated` stays below the boil; fruit and
sugar climb when they boil, foaming ones threefold. Common practice, no source. [-]"""

HOT_SUGAR = "Hot sugar sticks and burns deeply: never fill a pan so that it can boil over."


@dataclass(frozen=True)
class Bottling:
    """Bottles filled, and what is left for the last one. [-], [ml]"""

    full: int
    left_ml: float


@dataclass(frozen=True)
class PanFit:
    """Whether a volume fits a pan with head room. [ml]

    share : of the volume that fits, 1 when all does [-]
    """

    fits: bool
    usable_ml: float
    needed_pan_ml: float
    share: float


def scaled(parts: Mapping[str, float], factor: float) -> dict[str, float]:
    """Every part of a batch times a factor. Proportion.

    parts : amounts by name [any unit]
    factor : what to multiply by [-]
    Returns amounts in the same units. Valid for factors 0.001 to 1000, else OutOfRange.

    >>> scaled({"fruit_g": 1000, "sugar_g": 800}, 1.5)
    {'fruit_g': 1500.0, 'sugar_g': 1200.0}
    """
    inside("factor", factor, 0.001, 1000.0)
    return {name: amount * factor for name, amount in parts.items()}


def fruit_for_bottles(
    bottles: float, bottle_ml: float, yield_ml_per_kg: Spread | float, lost_share: float = 0.03
) -> Spread:
    """Fruit to buy for so many bottles. Proportion.

    bottles : wanted [-]
    bottle_ml : in each [ml]
    yield_ml_per_kg : syrup from a kilogram of fruit, best from earlier batches [ml/kg]
    lost_share : stuck to pan and funnel, common practice, no source [-]
    Returns fruit [g]; the high end gets them all filled in a poor year.
    Valid for 0 to 10 000 bottles of 1 to 10 000 ml and losses of 0 to 0.5, else OutOfRange.

    >>> fruit_for_bottles(6, 500, Spread(1200, 1500, 1800), lost_share=0.0)
    Spread(low=1666.7, likely=2000.0, high=2500.0)
    """
    inside("bottles", bottles, 0.0, 10_000.0)
    inside("bottle", bottle_ml, 1.0, 10_000.0, "ml")
    kept = 1.0 - inside("loss", lost_share, 0.0, 0.5)
    got = (
        Spread.exactly(yield_ml_per_kg)
        if not isinstance(yield_ml_per_kg, Spread)
        else (yield_ml_per_kg)
    )
    inside("yield", got.low, 1.0, 100_000.0, "ml/kg")
    need = 1000.0 * bottles * bottle_ml / kept
    return Spread(need / got.high, need / got.likely, need / got.low)


def bottles_from(volume_ml: float, bottle_ml: float) -> Bottling:
    """Bottles that a volume fills. Division.

    volume_ml : syrup to fill [ml]
    bottle_ml : in each, to the fill line [ml]
    Returns full bottles and the rest.
    Valid for 0 to 1 000 000 ml into bottles of 1 to 10 000 ml, else OutOfRange.

    >>> bottles_from(2750, 500)
    Bottling(full=5, left_ml=250)
    """
    inside("volume", volume_ml, 0.0, 1e6, "ml")
    inside("bottle", bottle_ml, 1.0, 10_000.0, "ml")
    full = floor(volume_ml / bottle_ml + 1e-9)
    return Bottling(full, max(0.0, volume_ml - full * bottle_ml))


def pan_ml(diameter_cm: float, depth_cm: float) -> float:
    """What a round, straight-sided pan holds to the brim. pi d^2 / 4 times depth.

    diameter_cm, depth_cm : inside [cm]
    Returns volume [ml]. Valid for 5 to 100 cm, else OutOfRange.

    >>> round(pan_ml(24, 14))
    6333
    """
    inside("diameter", diameter_cm, 5.0, 100.0, "cm")
    inside("depth", depth_cm, 5.0, 100.0, "cm")
    return pi * diameter_cm**2 / 4.0 * depth_cm


def mash_ml(fruit_g: float, water_g: float, sugar_g: float, fruit_brix: float = 10.0) -> float:
    """Volume of crushed fruit with water and sugar, hot.

    Reckoned as a syrup of the same dissolved solids: ICUMSA SPS-4 (1994), at 80 C. Whole fruit
    takes more room until it collapses.

    fruit_g, water_g, sugar_g : in the pan [g]
    fruit_brix : of its juice [mass %]
    Returns volume [ml]. Valid up to 85 Brix together, else OutOfRange.

    >>> round(mash_ml(1000, 500, 300))
    1696
    """
    for name, mass_g in (("fruit", fruit_g), ("water", water_g), ("sugar", sugar_g)):
        inside(name, mass_g, 0.0, 1e6, "g")
    total_g = inside("total", fruit_g + water_g + sugar_g, 1e-9, 3e6, "g")
    brix = (inside("Brix", fruit_brix, 0.0, 40.0) * fruit_g + 100.0 * sugar_g) / total_g
    return volume(total_g, brix, 80.0)


def pan_fit(volume_ml: float, holds_ml: float, heat: Heat) -> PanFit:
    """Whether a batch fits a pan with room to climb. Shares in FILL_SHARE.

    volume_ml : of the batch [ml]
    holds_ml : pan to the brim [ml]
    heat : cold, heated (below the boil), boiling or foaming [-]
    Returns the fit, with the pan it would need and the share that fits this one.
    Valid for 1 to 1 000 000 ml, else OutOfRange.

    >>> pan_fit(4000, 6000, "boiling")
    PanFit(fits=False, usable_ml=3000.0, needed_pan_ml=8000.0, share=0.75)
    """
    inside("volume", volume_ml, 1.0, 1e6, "ml")
    usable = inside("pan", holds_ml, 1.0, 1e6, "ml") * FILL_SHARE[heat]
    needed = volume_ml / FILL_SHARE[heat]
    return PanFit(volume_ml <= usable, usable, needed, min(1.0, usable / volume_ml))
