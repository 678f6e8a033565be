"""What is in the pan, by mass balance: measured where it can be, planned where not."""

from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache

from assistant.base.errors import OutOfRange
from assistant.calc.density import MAX_BRIX, mass_of_volume, volume
from assistant.calc.fruits import Fruit
from assistant.calc.mash import WASHED_OUT, Syrup, rinse, strained_juice
from assistant.calc.spread import Spread, carry
from assistant.calc.sugar import sugar_for_brix
from assistant.cook.basket import figures, pulp
from assistant.cook.batch import Batch, Taken
from assistant.cook.body import BODIES
from assistant.cook.body import given as body_of
from assistant.cook.own import Gift, afterwards, in_the_pot, later, pieces_g
from assistant.cook.parts import Fresh, Mash, PerLitre, Pieces, Plain, ShareOf
from assistant.cook.recognised import adds, reduction
from assistant.cook.remembered import by_the_pan

_UNKNOWN_FRUIT_BRIX = Spread(6.0, 10.0, 17.0)
_UNKNOWN_FRUIT_WATER = 0.86
"""A fruit nobody named: the middle of the berries in USDA SR26, with their whole range."""
_WATER = Spread.exactly(0.0)
_DARKER = "darker_syrup"
"""A recipe that names this starts from a finished syrup, and blends another in."""
HALF_LITRE = 500
"""Bottles nobody has named a size for are reckoned as these. [ml]"""


@dataclass(frozen=True)
class Juice:
    """The strained, made-up juice. mass_g [g], brix [mass %], volume_ml [ml].

    measured : whether the cook measured it; before that it is a forecast
    """

    mass_g: Spread
    brix: Spread
    volume_ml: Spread
    measured: bool


@by_the_pan
def juice(batch: Batch) -> Juice | None:
    """The juice of a batch, or None before what it starts from has been measured."""
    start = batch.start
    if start is None:
        return None
    brix = _juice_brix(batch, start)
    reading = _measured_juice(batch)
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


def _measured_juice(batch: Batch) -> Taken | None:
    """The juice measured after it was won; what a recipe starts from does not count as that."""
    reading = batch.last("juice")
    return None if reading is batch.start else reading


def start_mass(batch: Batch) -> float:
    """What the recipe starts from, by weight. [g]"""
    start = batch.start
    if start is None:
        return 0.0
    if start.reading.dimension == "mass":
        return start.base
    return mass_of_volume(start.base, _own_brix(batch).likely)


def made_up_volume(batch: Batch) -> float:
    """Volume the juice is to have: made up to by a mash, the sum of what went in else. [ml]"""
    start, source = batch.start, batch.recipe.juice
    if start is None:
        return 0.0
    if isinstance(source, Mash):
        return start.base * source.litres_per_kilo
    pot = _pot(batch, _own_brix(batch).likely)
    kept = pot.volume_ml * (source.kept if isinstance(source, Plain) else 1.0)
    soaked = in_the_pot(batch).soaked_g
    return max(1.0, kept - soaked) if soaked else kept


def _pot(batch: Batch, own_brix: float) -> Syrup:
    """What a fresh or plain recipe starts from with the water, vinegar and sugar it is given."""
    start, recipe = batch.start, batch.recipe
    liquid = start is not None and (recipe.base != "fruit" or isinstance(recipe.juice, Fresh))
    own = Syrup(start_mass(batch) if liquid else 0.0, own_brix)
    darker_ml, target = _in(batch, _DARKER), recipe.targets.brix
    darker = Syrup(mass_of_volume(darker_ml, target), target)
    thin = own.mass_g + darker.mass_g + _in(batch, "hot_water") + _in(batch, "vinegar")
    gift = in_the_pot(batch)
    thin += gift.liquid_g
    thinned = Syrup(thin, 100 * (own.sugar_g + darker.sugar_g) / thin if thin else 0.0)
    dissolved = _in(batch, "crushing_sugar") + _acids_by_share(batch)
    return thinned.sweetened(dissolved + gift.solids_g)


def _acids_by_share(batch: Batch) -> float:
    """Acid that is a share of what a recipe starts from, as in an acid solution. [g]

    It counts as sugar: its solution is as dense to within half a hundredth (CRC Handbook).
    """
    shares = (n for n, rule in batch.recipe.amounts.items() if isinstance(rule, ShareOf))
    own = batch.recipe.ingredients
    return sum(_in(batch, name) for name in shares if name.endswith("_acid") and name not in own)


def _own_brix(batch: Batch) -> Spread:
    """Brix of what a recipe starts from: the fruit's for fresh juice, none for water."""
    if not isinstance(batch.recipe.juice, Fresh):
        return _WATER
    if _DARKER in batch.recipe.amounts:
        read = batch.last("brix")
        return Spread.exactly(read.base if read is not None else batch.recipe.targets.brix)
    own = figures(batch)
    return own.brix() if own else _UNKNOWN_FRUIT_BRIX


@by_the_pan
def main_sugar(batch: Batch) -> Spread | None:
    """Sugar that brings the juice to the recipe's Brix [g], or None before the first measurement.

    None goes in where the recipe names none.
    """
    stock = juice(batch)
    if stock is None:
        return None
    if "main_sugar" not in batch.recipe.amounts:
        return Spread.exactly(0.0)
    target = batch.recipe.targets.brix
    return carry(lambda m, b: sugar_for_brix(m, min(b, target), target), stock.mass_g, stock.brix)


@by_the_pan
def syrup(batch: Batch) -> Juice | None:
    """The finished syrup: the target until the sugar is in, then what went in makes it."""
    stock, pulp = bare_syrup(batch), juice(batch)
    if stock is None or pulp is None:
        return stock
    body = body_of(batch, pulp.volume_ml.likely, stock.volume_ml.likely)
    if not later(batch.recipe) and body == Gift():
        return stock
    return _given(batch, stock, afterwards(batch, planned_later(batch)).plus(body))


def planned_later(batch: Batch) -> dict[str, float]:
    """The recipe's own ingredients that go in after the juice was measured, by plan. [g or ml]

    What only an option adds is no plan.
    """
    return {
        name: found.likely
        for name in later(batch.recipe)
        if any(s.when is None for s in batch.recipe.stages if adds(s) == name)
        and (found := own_amount(batch, name)) is not None
    }


def own_amount(batch: Batch, name: str) -> Spread | None:
    """How much of an own ingredient the recipe plans; None until it can be reckoned. [g or ml]

    Per litre of syrup means the syrup before any of them goes in.
    """
    rule, start = batch.recipe.amounts[name], batch.start
    if start is None:
        return None
    if isinstance(rule, ShareOf):
        return Spread.exactly(start.base * rule.share)
    if isinstance(rule, Pieces):
        own = batch.recipe.ingredients[name]
        return Spread(*pieces_g(own, start.base / 1000 * rule.pieces))
    stock = juice(batch) if isinstance(rule, PerLitre) and rule.of == "juice" else bare_syrup(batch)
    if stock is None or not isinstance(rule, PerLitre):
        return None
    return carry(lambda ml: ml / 1000 * rule.amount, stock.volume_ml)


def _given(batch: Batch, stock: Juice, gift: Gift) -> Juice:
    """The syrup with what own ingredients bring; a Brix read since the last of them stays as read.

    Spirit adds its own volume: what mixing loses, under 4 % of it, is left aside (calc.alcohol).
    """
    names = {*later(batch.recipe), *BODIES}
    last = max((a.at for a in batch.added if a.name in names), default=None)
    made, read = batch.last("yield"), batch.last("brix")
    weighed = last is not None and made is not None and made.at >= last
    if weighed and batch.addition("main_sugar") is None:
        return stock
    sure = last is not None and read is not None and read.at >= last
    more = gift.solids_g + gift.liquid_g - gift.soaked_g
    mass = carry(lambda m: m + more, stock.mass_g)
    brix = (
        stock.brix if sure else carry(lambda m, b: _brix_with(m, b, gift), stock.mass_g, stock.brix)
    )
    thin = carry(lambda m: m - gift.spirit_g, mass)
    rest = carry(lambda m, b: m * b / (m - gift.spirit_g), mass, brix)
    ml = carry(lambda m, b: volume(m, b) + gift.spirit_ml, thin, rest)
    return Juice(mass, brix, ml, stock.measured)


def _brix_with(mass_g: float, brix: float, gift: Gift) -> float:
    kept = (mass_g - gift.soaked_g) * brix / 100
    return 100 * (kept + gift.solids_g) / (mass_g - gift.soaked_g + gift.solids_g + gift.liquid_g)


def alcohol_ml(batch: Batch) -> float:
    """Pure alcohol in the syrup, by what went in or will; what straining loses is lost with it."""
    stock = juice(batch)
    pot = in_the_pot(batch).alcohol_ml
    if pot and stock is not None:
        source = batch.recipe.juice
        full = (
            _pot(batch, _own_brix(batch).likely).volume_ml if not isinstance(source, Mash) else 0.0
        )
        pot *= min(1.0, stock.volume_ml.likely / full) if full else 1.0
    return pot + afterwards(batch, planned_later(batch)).alcohol_ml


def alcohol_by_volume(batch: Batch) -> float:
    """Alcohol in the syrup. [ml/ml]"""
    made = syrup(batch)
    pure = alcohol_ml(batch) if batch.recipe.ingredients else 0.0
    return pure / made.volume_ml.likely if made and made.volume_ml.likely else 0.0


@by_the_pan
def bare_syrup(batch: Batch) -> Juice | None:
    """The syrup before any of the recipe's own ingredients goes into it."""
    stock = juice(batch)
    planned = main_sugar(batch)
    if stock is None or planned is None:
        return None
    if "main_sugar" not in batch.recipe.amounts:
        return _as_it_is(batch, stock)
    put_in, brix, water = planned, Spread.exactly(batch.recipe.targets.brix), 0.0
    if batch.addition("main_sugar") is not None:
        put_in, water = Spread.exactly(batch.total("main_sugar")), _thinning(batch)
        brix = _sweetened_brix(batch, stock, put_in)
    mass = carry(lambda m, s: m + s + water, stock.mass_g, put_in)
    return Juice(mass, brix, carry(volume, mass, brix), stock.measured)


def bottles_for(stock: Juice) -> int:
    """Enough bottles for all of the syrup there is likely to be, the last one not full."""
    return int(-(-stock.volume_ml.likely // HALF_LITRE))


def _as_it_is(batch: Batch, stock: Juice) -> Juice:
    """A recipe without main sugar: what was weighed last, at its target or measured Brix."""
    if reduction(batch.recipe) is not None:
        return _reduced(batch, stock)
    read, made = batch.last("brix"), batch.last("yield")
    target = Spread.exactly(batch.recipe.targets.brix)
    if not target.likely and read is None and made is None:
        return Juice(stock.mass_g, target, stock.volume_ml, measured=False)
    brix = Spread.exactly(read.base) if read is not None else target
    if made is None:
        solids = carry(lambda m, b: m * b / 100, stock.mass_g, stock.brix)
        mass = carry(lambda s, b: 100 * s / b if b else stock.mass_g.likely, solids, brix)
    elif made.reading.dimension == "volume":
        mass = carry(mass_of_volume, made.base, brix)
    else:
        mass = Spread.exactly(made.base)
    return Juice(mass, brix, carry(volume, mass, brix), made is not None)


def _reduced(batch: Batch, stock: Juice) -> Juice:
    """Boiled down by weight: what was dissolved in the juice is in it, so its Brix has a spread."""
    made, share = batch.last("yield"), reduction(batch.recipe) or 1.0
    light = made is not None and made.reading.dimension == "mass"
    mass = made.base if light and made is not None else start_mass(batch) * share
    read = batch.last("brix")
    if read is not None and read.at >= _reduced_at(batch):
        brix = Spread.exactly(read.base)
    else:
        solids = carry(lambda m, b: m * b / 100, stock.mass_g, stock.brix)
        brix = carry(lambda s: min(100 * s / mass, MAX_BRIX), solids)
    weighed = Spread.exactly(mass)
    return Juice(weighed, brix, carry(volume, weighed, brix), made is not None)


def _reduced_at(batch: Batch) -> datetime:
    """When what was boiled down was weighed first; the end of time where it was not."""
    first = next((t.at for t in batch.taken if t.what == "yield"), None)
    return first or datetime.max.replace(tzinfo=UTC)


def _sweetened_brix(batch: Batch, stock: Juice, put_in: Spread) -> Spread:
    """By refractometer where one was read since, with what went in later; else by mass balance."""
    sugar = _sugared_at(batch)
    read = next((t for t in reversed(batch.taken) if t.what == "brix" and t.at >= sugar), None)
    if read is None:
        water = _thinning(batch)
        return carry(lambda m, b, s: _mixed(m, b, s, water), stock.mass_g, stock.brix, put_in)
    later, water = _later(batch, "main_sugar", read.at), _later(batch, "hot_water", read.at)
    if not later and not water:
        return Spread.exactly(read.base)
    gone = put_in.likely - later + _thinning(batch) - water
    return carry(lambda m: _mixed(m + gone, read.base, later, water), stock.mass_g)


def _mixed(mass_g: float, brix: float, sugar_g: float, water_g: float) -> float:
    """Brix of a syrup with sugar and water stirred in."""
    made = Syrup(mass_g, brix).sweetened(sugar_g)
    return 100 * made.sugar_g / (made.mass_g + water_g)


def _sugared_at(batch: Batch) -> datetime:
    """When the first of the main sugar went in; the end of time where none has."""
    first = next((a.at for a in batch.added if a.name == "main_sugar"), None)
    return first or datetime.max.replace(tzinfo=UTC)


def _later(batch: Batch, name: str, since: datetime) -> float:
    return sum(a.amount for a in batch.added if a.name == name and a.at > since)


def _thinning(batch: Batch) -> float:
    """Water that went in after the main sugar, to thin a syrup that is too sweet. [ml]"""
    return _later(batch, "hot_water", _sugared_at(batch))


def _juice_brix(batch: Batch, start: Taken) -> Spread:
    """Measured before the main sugar went in, or worked out from what was put together."""
    after = _sugared_at(batch) if reduction(batch.recipe) is None else _reduced_at(batch)
    read = next((t for t in reversed(batch.taken) if t.what == "brix" and t.at < after), None)
    if read is not None:
        return Spread.exactly(read.base)
    source = batch.recipe.juice
    if isinstance(source, Mash):
        return _mash_brix(batch, start, source, figures(batch))
    return carry(lambda own: _pot(batch, own).brix, _own_brix(batch))


def _mash_brix(batch: Batch, start: Taken, mash: Mash, fruit: Fruit | None) -> Spread:
    brix = fruit.brix() if fruit else _UNKNOWN_FRUIT_BRIX
    water = fruit.water / 100 if fruit and fruit.water else _UNKNOWN_FRUIT_WATER
    low, high = pulp(batch, mash)
    shares = Spread(low, (low + high) / 2, high)
    gift = in_the_pot(batch)
    sugar = _in(batch, "crushing_sugar") + gift.solids_g
    liquid = _in(batch, "hot_water") + _in(batch, "vinegar") + gift.liquid_g
    wanted = _volume_wanted(batch)

    def made_up(fruit_brix: float, pulp_share: float) -> float:
        return _made_up_brix(start.base, fruit_brix, water, sugar, liquid, pulp_share, wanted)

    return carry(made_up, brix, shares)


def _volume_wanted(batch: Batch) -> float:
    reading = _measured_juice(batch)
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
    sugar = _sugared_at(batch)
    mashed = (a for a in batch.added if a.name == name and a.at <= sugar)
    added = max(mashed, key=lambda a: a.at, default=None)
    if added is not None:
        return added.amount
    rule = batch.recipe.amounts.get(name)
    start = batch.start
    return start.base * rule.share if isinstance(rule, ShareOf) and start else 0.0
