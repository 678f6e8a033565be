"""What is in the pan, by mass balance: measured where it can be, planned where not."""

from dataclasses import dataclass
from functools import lru_cache

from assistant.calc.density import mass_of_volume, volume
from assistant.calc.fruits import fruit as fruit_figures
from assistant.calc.mash import WASHED_OUT, Syrup, rinse, strained_juice
from assistant.calc.spread import Spread, carry
from assistant.calc.sugar import sugar_for_brix
from assistant.cook.batch import Batch
from assistant.cook.recipe import ShareOf
from assistant.errors import OutOfRange

_UNKNOWN_FRUIT_BRIX = Spread(6.0, 10.0, 17.0)
_UNKNOWN_FRUIT_WATER = 0.86
"""A berry nobody named: the middle of the berries in USDA SR26, with their whole range."""


@dataclass(frozen=True)
class Juice:
    """The strained, made-up juice. mass_g [g], brix [mass %], volume_ml [ml].

    measured : whether the cook measured it; before that it is a forecast
    """

    mass_g: Spread
    brix: Spread
    volume_ml: Spread
    measured: bool


def juice(batch: Batch) -> Juice | None:
    """The juice of a batch, or None before the fruit has been weighed."""
    if batch.last("fruit") is None:
        return None
    brix = _juice_brix(batch)
    reading = batch.last("juice")
    if reading is None:
        wanted = made_up_volume(batch)
        mass = carry(mass_of_volume, wanted, brix)
        return Juice(mass, brix, Spread.exactly(wanted), measured=False)
    if reading.reading.dimension == "volume":
        mass = carry(mass_of_volume, reading.base, brix)
        return Juice(mass, brix, Spread.exactly(reading.base), measured=True)
    return Juice(
        Spread.exactly(reading.base), brix, carry(volume, reading.base, brix), measured=True
    )


def made_up_volume(batch: Batch) -> float:
    """Volume the juice is to be made up to. [ml]"""
    fruit = batch.last("fruit")
    return fruit.base * batch.recipe.juice.litres_per_kilo if fruit else 0.0


def main_sugar(batch: Batch) -> Spread | None:
    """Sugar that brings the juice to the recipe's Brix [g], or None before the fruit is weighed."""
    stock = juice(batch)
    if stock is None:
        return None
    target = batch.recipe.targets.brix
    return carry(lambda m, b: sugar_for_brix(m, min(b, target), target), stock.mass_g, stock.brix)


def syrup(batch: Batch) -> Juice | None:
    """The finished syrup: the target until the sugar is in, then what went in makes it."""
    stock = juice(batch)
    planned = main_sugar(batch)
    if stock is None or planned is None:
        return None
    put_in, brix = planned, Spread.exactly(batch.recipe.targets.brix)
    if batch.addition("main_sugar") is not None:
        put_in = Spread.exactly(batch.total("main_sugar"))
        brix = _sweetened_brix(batch, stock, put_in)
    mass = carry(lambda m, s: m + s, stock.mass_g, put_in)
    return Juice(mass, brix, carry(volume, mass, brix), stock.measured)


def _sweetened_brix(batch: Batch, stock: Juice, put_in: Spread) -> Spread:
    """By refractometer where one was read after the sugar, else by mass balance."""
    read, sugar = batch.last("brix"), batch.addition("main_sugar")
    if read is not None and sugar is not None and read.at >= sugar.at:
        return Spread.exactly(read.base)
    return carry(lambda m, b, s: Syrup(m, b).sweetened(s).brix, stock.mass_g, stock.brix, put_in)


def _juice_brix(batch: Batch) -> Spread:
    """Measured before the main sugar went in, or worked out from what was put together."""
    read = batch.last("brix")
    sugar = batch.addition("main_sugar")
    if read is not None and (sugar is None or read.at < sugar.at):
        return Spread.exactly(read.base)
    fruit_g = batch.last("fruit")
    if fruit_g is None:
        raise ValueError("the fruit has not been weighed")
    figures = fruit_figures(batch.fruit) if batch.fruit else None
    brix = figures.brix() if figures else _UNKNOWN_FRUIT_BRIX
    water = figures.water / 100 if figures and figures.water else _UNKNOWN_FRUIT_WATER
    pulp = batch.recipe.juice
    shares = Spread(pulp.pulp_low, (pulp.pulp_low + pulp.pulp_high) / 2, pulp.pulp_high)

    crushing_sugar, hot_water = _in(batch, "crushing_sugar"), _in(batch, "hot_water")
    wanted = _volume_wanted(batch)

    def made_up(fruit_brix: float, pulp_share: float) -> float:
        return _made_up_brix(
            fruit_g.base, fruit_brix, water, crushing_sugar, hot_water, pulp_share, wanted
        )

    return carry(made_up, brix, shares)


def _volume_wanted(batch: Batch) -> float:
    reading = batch.last("juice")
    if reading is not None and reading.reading.dimension == "volume":
        return reading.base
    return made_up_volume(batch)


@lru_cache(maxsize=1024)
def _made_up_brix(
    fruit_g: float,
    fruit_brix: float,
    water_share: float,
    sugar_g: float,
    water_g: float,
    pulp_share: float,
    wanted_ml: float,
) -> float:
    """Brix of the juice, made up; remembered, since every reply asks for it again.

    No water goes through the pulp where enough has run off already.
    """
    run_off = strained_juice(fruit_g, fruit_brix, water_share, sugar_g, water_g, pulp_share)
    try:
        return rinse(run_off, wanted_ml, WASHED_OUT.likely).brix
    except OutOfRange:
        return run_off.brix


def _in(batch: Batch, name: str) -> float:
    """What went into the mash under that name, or will. [g or ml]"""
    added = batch.addition(name)
    if added is not None:
        return added.amount
    rule = batch.recipe.amounts.get(name)
    fruit = batch.last("fruit")
    return fruit.base * rule.share if isinstance(rule, ShareOf) and fruit else 0.0
