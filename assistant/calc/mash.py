"""What comes out of a mash: strained juice, the rinse that makes it up, the finished syrup.

Mass balance throughout: whatever went in is in the juice, in the cloth or in the steam.
"""

from dataclasses import dataclass
from math import inf

from assistant.calc.bounds import inside
from assistant.calc.density import MAX_BRIX, volume
from assistant.calc.spread import Spread, carry

PULP_SHARE = Spread(0.30, 0.45, 0.60)
"""Mass left in the cloth, unpressed, as a share of the fruit. Common practice, no source."""
WASHED_OUT = Spread(0.3, 0.6, 0.9)
"""Share of the sugar held in the pulp that a rinse brings out. Common practice, no source."""
_TABLES_PART = 0.1
"""Water and Brix come from different tables and fruit: together they may pass the whole by this
much, and the fruit then counts as liquor of that Brix alone. No source. [-]"""


@dataclass(frozen=True)
class Syrup:
    """A mass of liquid and its Brix. [g], [mass %]"""

    mass_g: float
    brix: float

    @property
    def sugar_g(self) -> float:
        """Dissolved solids, reckoned as sugar. [g]"""
        return self.mass_g * self.brix / 100

    @property
    def water_g(self) -> float:
        """Everything else. [g]"""
        return self.mass_g - self.sugar_g

    @property
    def volume_ml(self) -> float:
        """Volume at 20 degC [ml]; OutOfRange past 85 Brix."""
        return volume(self.mass_g, self.brix)

    def sweetened(self, sugar_g: float, evaporated_g: float = 0.0) -> "Syrup":
        """The syrup with dry sugar stirred in and some water lost as steam.

        sugar_g : dry sugar [g]; evaporated_g : water lost [g], at most all of it
        Returns the syrup; OutOfRange for less than nothing.

        >>> Syrup(1000, 20).sweetened(1000, evaporated_g=50).brix
        61.54
        """
        inside("sugar", sugar_g, 0.0, inf, "g")
        inside("evaporated water", evaporated_g, 0.0, self.water_g, "g")
        solids = self.sugar_g + sugar_g
        mass = self.mass_g + sugar_g - evaporated_g
        return Syrup(mass, 100 * solids / mass if mass else 0.0)


@dataclass(frozen=True)
class Strained(Syrup):
    """Juice that ran off, with what stayed in the cloth.

    held : liquor that the pulp holds; insoluble_g : skins, pips and fibre [g]
    """

    held: Syrup
    insoluble_g: float

    @property
    def pulp_g(self) -> float:
        """What the cloth weighs, less the cloth. [g]"""
        return self.held.mass_g + self.insoluble_g


@dataclass(frozen=True)
class Rinsed(Strained):
    """Juice made up to a volume with water poured through the pulp.

    poured_g : water poured [g]; brix_spread, poured_spread : both for an uncertain rinse
    """

    poured_g: float
    brix_spread: Spread
    poured_spread: Spread


def strained_juice(
    fruit_g: float,
    fruit_brix: float,
    fruit_water_share: float,
    sugar_g: float = 0.0,
    water_g: float = 0.0,
    pulp_share: float = PULP_SHARE.likely,
    evaporated_g: float = 0.0,
) -> Strained:
    """The juice that runs off a lightly crushed, unpressed mash. Mass balance.

    fruit_g : fruit [g]; fruit_brix : Brix of its own juice [mass %]
    fruit_water_share : water in the fruit, as a share of its mass [-]
    sugar_g, water_g : crushed and poured in [g]; evaporated_g : lost as steam [g]
    pulp_share : what the cloth keeps, skins and liquor, as a share of the fruit's mass [-]
    Returns juice and cloth; the liquor in the cloth has the Brix of the juice. OutOfRange where
    the shares cannot be: a tenth more in the fruit than fruit, or a cloth that holds all liquor.

    >>> juice = strained_juice(1000, 10, 0.85, sugar_g=300, water_g=500, pulp_share=0.4)
    >>> juice.mass_g, juice.brix
    (1400.0, 22.61)
    """
    fruit = _fruit_liquor(fruit_g, fruit_brix, fruit_water_share)
    insoluble_g = max(fruit_g - fruit.mass_g, 0.0)
    inside("water", water_g, 0.0, inf, "g")
    wetted = Syrup(fruit.mass_g + water_g, 100 * fruit.sugar_g / (fruit.mass_g + water_g))
    liquor = wetted.sweetened(sugar_g, evaporated_g)
    most = (insoluble_g + liquor.mass_g) / fruit_g
    kept = inside("pulp share", pulp_share, insoluble_g / fruit_g, most) * fruit_g - insoluble_g
    held = Syrup(kept, liquor.brix)
    return Strained(liquor.mass_g - kept, liquor.brix, held, insoluble_g)


def rinse(juice: Strained, target_ml: float, washed_out: Spread | float = WASHED_OUT) -> Rinsed:
    """Juice made up to a volume with water poured through the pulp. Mass balance.

    juice : from `strained_juice`; target_ml : volume to make up to, at 20 degC [ml]
    washed_out : share of the sugar held in the pulp that comes along [-]. The pulp keeps its
    weight, and what runs out of it is never sweeter than the liquor it held.
    Returns juice, cloth and water poured at the likely share, with both spreads; OutOfRange for a
    target below what ran off already or a share outside 0 to 1.

    >>> juice = strained_juice(1000, 10, 0.85, sugar_g=300, water_g=500, pulp_share=0.4)
    >>> made_up = rinse(juice, 1500)
    >>> made_up.poured_g, made_up.brix, made_up.brix_spread.high
    (236.3, 22.20, 22.61)
    """
    shares = washed_out if isinstance(washed_out, Spread) else Spread.exactly(washed_out)
    inside("washed-out share", shares.low, 0.0, 1.0)
    inside("washed-out share", shares.high, 0.0, 1.0)
    inside("volume to make up to", target_ml, juice.volume_ml, inf, "ml")
    poured = carry(lambda share: _water_to(juice, target_ml, share), shares)
    brix = carry(
        lambda share: _after(juice, _water_to(juice, target_ml, share), share).brix, shares
    )
    made_up = _after(juice, poured.likely, shares.likely)
    held = _left(juice, made_up)
    return Rinsed(
        made_up.mass_g, made_up.brix, held, juice.insoluble_g, poured.likely, brix, poured
    )


def _fruit_liquor(fruit_g: float, fruit_brix: float, water_share: float) -> Syrup:
    """Water and dissolved solids of the fruit, as one liquor; never more than the fruit."""
    inside("fruit", fruit_g, 1e-6, inf, "g")
    inside("fruit Brix", fruit_brix, 0.0, MAX_BRIX)
    dry = 1 - fruit_brix / 100
    inside("share of water in the fruit", water_share, 1e-6, dry * (1 + _TABLES_PART))
    return Syrup(fruit_g * min(water_share / dry, 1.0), fruit_brix)


def _after(juice: Strained, poured_g: float, share: float) -> Syrup:
    """The juice with the run-off of a rinse: its mass is the water's, its sugar the pulp's."""
    washed = min(share * juice.held.sugar_g, poured_g * juice.held.brix / 100)
    mass = juice.mass_g + poured_g
    return Syrup(mass, 100 * (juice.sugar_g + washed) / mass)


def _left(juice: Strained, made_up: Syrup) -> Syrup:
    kept = juice.held.sugar_g + juice.sugar_g - made_up.sugar_g
    mass = juice.held.mass_g
    return Syrup(mass, max(100 * kept / mass, 0.0) if mass else 0.0)


def _water_to(juice: Strained, target_ml: float, share: float) -> float:
    """Water that brings the juice to a volume, by bisection. [g]"""
    low, high = 0.0, 1.5 * (target_ml - juice.volume_ml) + 1.0
    while high - low > 1e-9 * max(high, 1.0):
        middle = (low + high) / 2
        short = _after(juice, middle, share).volume_ml < target_ml
        low, high = (middle, high) if short else (low, middle)
    return (low + high) / 2
