"""The shopping list of a batch: what goes in, rounded up to what is sold or weighed."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from assistant.base.units import Unit
from assistant.calc.spread import Spread
from assistant.cook import Batch, Quantity
from assistant.cook.amounts import amount
from assistant.cook.basket import figures
from assistant.cook.kinds import Add
from assistant.cook.souring import acid_advice
from assistant.cook.stock import main_sugar
from assistant.facts.stuff import row_of, stuff_of
from assistant.limits import above_makers


@dataclass(frozen=True)
class Item:
    """One thing on the list; `words` are what it is called.

    needed : what goes in [unit]; buy : that, rounded up [unit]
    optional : only where the cook says yes to it; reserve : in case the pH is too high [unit]
    """

    name: str
    words: str
    needed: Spread
    unit: Unit
    buy: float
    optional: bool = False
    reserve: float = 0.0


def round_up(value: float, step: float) -> float:
    """Up to a whole number of steps, the noise of arithmetic left aside.

    >>> round_up(1010, 500), round_up(1500.0000000001, 500)
    (1500.0, 1500.0)
    """
    return float(ceil(round(value / step, 9)) * step)


def base_to_buy(base: float) -> float:
    """Fruit, juice or water up to what scales and jugs show in such amounts. [g or ml]

    >>> base_to_buy(1234), base_to_buy(6021), base_to_buy(20050)
    (1250.0, 6100.0, 20500.0)
    """
    step = 50.0 if base <= 2_000 else 100.0 if base <= 20_000 else 500.0
    return round_up(base, step)


def shopping(batch: Batch) -> tuple[Item, ...]:
    """What goes in besides the fruit, in the order of the recipe; the same stuff is one item."""
    items: dict[str, Item] = {}
    for name, wanted, optional in _amounts(batch):
        stuff = stuff_of(name)
        row, own = row_of(name), batch.recipe.ingredients.get(name)
        if row.from_tap:
            continue
        spread = _spread(batch, name, wanted)
        had = items.get(stuff)
        needed = spread if had is None else _plus(had.needed, spread)
        optional = optional and (had is None or had.optional)
        reserve = acid_reserve(batch) if stuff == "citric_acid" else 0.0
        buy = round_up(needed.high + reserve, own.buy_step if own else row.buy_step)
        items[stuff] = Item(
            stuff, batch.recipe.words(stuff), needed, wanted.unit, buy, optional, reserve
        )
    return tuple(items.values())


def acid_reserve(batch: Batch) -> float:
    """Citric acid to have at hand for the least sour fruit of its kind. [g]

    Nothing where even that fruit stays below what makers stay below, or where it can't be told.
    """
    fruit = figures(batch)
    if fruit is None or fruit.ph_high is None or not above_makers(fruit.ph_high):
        return 0.0
    for line in acid_advice(batch, fruit.ph_high):
        whole = line.facts.get("whole")
        if isinstance(whole, Quantity):
            return whole.value
    return 0.0


def _amounts(batch: Batch) -> Iterator[tuple[str, Quantity, bool]]:
    for name in batch.recipe.added:
        wanted = amount(batch, name)
        if wanted is not None and wanted.value > 0:
            yield name, wanted, _is_optional(batch, name)


def _is_optional(batch: Batch, name: str) -> bool:
    adding = [s for s in batch.recipe.stages if isinstance(s, Add) and s.amount == name]
    return all(s.when is not None for s in adding)


def _spread(batch: Batch, name: str, wanted: Quantity) -> Spread:
    """The whole spread: what is said aloud leaves out a narrow one, but a shopper pays for it."""
    sugar = main_sugar(batch) if name == "main_sugar" else None
    if sugar is not None:
        return sugar
    low = wanted.value if wanted.low is None else wanted.low
    high = wanted.value if wanted.high is None else wanted.high
    return Spread(low, wanted.value, high)


def _plus(one: Spread, other: Spread) -> Spread:
    return Spread(one.low + other.low, one.likely + other.likely, one.high + other.high)
