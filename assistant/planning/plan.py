"""Works back from what is wanted to fruit, sugar, acid, bottles, pan and time."""

from dataclasses import dataclass

from assistant.base.errors import WrongUse
from assistant.calc.cost import Hob
from assistant.calc.scale import bottles_from, fruit_for_bottles
from assistant.calc.serve import Glass
from assistant.calc.spread import Spread
from assistant.cook import Batch, Recipe
from assistant.cook.stock import Juice, syrup
from assistant.planning.duration import Duration, duration
from assistant.planning.pan import PanNeed, pan_need
from assistant.planning.shopping import Item, base_to_buy, round_up, shopping
from assistant.planning.trial import check_fruit, sole_fruit, trial_batch
from assistant.planning.wish import Wish

STICKS = 0.03
"""Share of the syrup stuck to pan and funnel. Common practice, no source. [-]"""
_A_KILO = 1000.0


@dataclass(frozen=True)
class Plan:
    """A batch on paper.

    batch : the recipe folded with the base below
    needed : what the recipe starts from for exactly what is wanted; high in a poor year [g or ml]
    base : that, high end, rounded up to what is weighed [g or ml]
    syrup_ml : syrup to fill, what sticks to the pan taken off [ml]; brix [mass %]
    bottles : full ones in a poor, a usual and a good year [-]; bottles_ready : to have clean [-];
        both of the wish's first size, beside those of other sizes
    guests_glass : a glass of the drink, where the syrup is sweeter than it
    """

    batch: Batch
    wish: Wish
    needed: Spread
    base: float
    syrup_ml: Spread
    brix: Spread
    bottles: tuple[int, int, int]
    bottles_ready: int
    items: tuple[Item, ...]
    pan: PanNeed
    time: Duration
    guests_glass: Glass | None


def plan(
    recipe: Recipe,
    wish: Wish,
    fruit: str | None = None,
    power_w: float = 1500.0,
    hob: Hob = "electric",
) -> Plan:
    """The plan for a wish, through the same reckoning as a real batch.

    recipe : what to make; wish : how much; fruit : its name, None for one not chosen yet
    power_w : of the ring [W]; hob : gas, electric or induction
    Returns the plan. OutOfRange where it is more or less than one batch may be; WrongUse for a
    recipe that blends finished syrups; WrongUse and LimitStopped as `trial_batch`.
    """
    if "darker_syrup" in recipe.amounts:
        raise WrongUse(f"{recipe.name} stirs finished syrups together: plan those.")
    fruit = fruit or sole_fruit(recipe)
    check_fruit(recipe, fruit)
    needed = base_needed(recipe, wish, fruit)
    base = needed.high if wish.kind == "fruit" else base_to_buy(needed.high)
    batch = trial_batch(recipe, base, fruit)
    made = _made(batch)
    filled = _filled(made.volume_ml)
    return Plan(
        batch=batch,
        wish=wish,
        needed=needed,
        base=base,
        syrup_ml=filled,
        brix=made.brix,
        bottles=_full(_beside(filled, wish.others_ml), wish.bottle_ml),
        bottles_ready=_ready(filled.high - wish.others_ml, wish.bottle_ml),
        items=shopping(batch),
        pan=pan_need(batch),
        time=duration(batch, power_w, hob),
        guests_glass=wish.glass(made.brix.likely),
    )


def base_needed(recipe: Recipe, wish: Wish, fruit: str | None) -> Spread:
    """Fruit, juice or water for exactly what is wanted. [g or ml]

    WrongUse where fruit is to be used up that the recipe does not start from.
    """
    if wish.kind == "fruit":
        if recipe.base != "fruit":
            raise WrongUse(
                f"{recipe.name} starts from {recipe.base}, not from fruit: say --bottles, "
                "--litres or --guests."
            )
        return Spread.exactly(_A_KILO * wish.amount)
    each = _made(trial_batch(recipe, _A_KILO, fruit))
    wanted_ml = wish.syrup_ml(each.brix.likely)
    if wanted_ml is None:
        raise ValueError(f"a wish of the kind {wish.kind!r} names no volume")
    return fruit_for_bottles(wanted_ml / wish.bottle_ml, wish.bottle_ml, each.volume_ml, STICKS)


def _made(batch: Batch) -> Juice:
    made = syrup(batch)
    if made is None:
        raise ValueError("a batch on paper has its first measurement")
    return made


def _filled(made: Spread) -> Spread:
    kept = 1.0 - STICKS
    return Spread(made.low * kept, made.likely * kept, made.high * kept)


def _beside(filled: Spread, others_ml: float) -> Spread:
    """What is left once the bottles of other sizes are full. [ml]"""
    low, likely, high = (max(0.0, v - others_ml) for v in (filled.low, filled.likely, filled.high))
    return Spread(low, likely, high)


def _ready(volume_ml: float, bottle_ml: float) -> int:
    """Bottles to have clean for a volume, the last one not full."""
    return round(round_up(max(0.0, volume_ml), bottle_ml) / bottle_ml)


def _full(filled: Spread, bottle_ml: float) -> tuple[int, int, int]:
    low, likely, high = (
        bottles_from(v, bottle_ml).full for v in (filled.low, filled.likely, filled.high)
    )
    return low, likely, high
