"""Which fruit is in a batch and how much of each: one, or several by weight."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.base.units import dimension, to_base
from assistant.calc.density import mass_of_volume
from assistant.calc.fruit_mix import mixed
from assistant.calc.fruits import PUNNET_G, Fruit, fruit
from assistant.calc.spread import Spread, carry
from assistant.cook.batch import Batch
from assistant.cook.parts import Mash
from assistant.facts.events import Weighed

_JUICE_BRIX = 10.0
"""Of a juice nobody knows: the middle of the berries (19 CFR 151.91). [mass %]"""
BURST_PULP = (0.30, 0.55)
"""Frozen fruit has burst its cells and holds less in the cloth: at most so much of it, as the
recipe for frozen berries has it (common practice, no source). [g/g]"""


@dataclass(frozen=True)
class Share:
    """One fruit of a batch. grams : without stones [g]; frozen : it came from the freezer"""

    fruit: str
    grams: float
    frozen: bool = False


def net_g(one: Weighed) -> Spread | None:
    """What was weighed or counted, without its stones; None where a figure is missing. [g]

    What is counted is whole, stones and all.
    """
    figures = fruit(one.fruit)
    gross = Spread.exactly(0.0)
    if not one.each:
        base = to_base(one.value, one.unit)
        juice = dimension(one.unit) == "volume"
        brix = figures.brix().likely if figures else _JUICE_BRIX
        gross = Spread.exactly(mass_of_volume(base, brix) if juice else base)
    else:
        each = PUNNET_G if one.each == "punnet" else figures.piece_g if figures else None
        if each is None:
            return None
        gross = carry(lambda grams: one.value * grams, each)
    stone = figures.stone if figures else None
    whole = one.stones or (one.each == "piece" and stone is not None)
    if not whole:
        return gross
    return None if stone is None else carry(lambda grams, s: grams * (1 - s), gross, stone)


def shares(batch: Batch) -> tuple[Share, ...]:
    """Every fruit of the batch by weight, the heaviest first; () where none was weighed or named.

    What was said last counts: another fruit named alone takes the place of a mixture.
    """
    start = batch.start
    if start is None or batch.fruit is None:
        return ()
    parts = start.reading.parts
    if not parts or named(parts) != batch.fruit:
        return (Share(batch.fruit, start.base),)
    return by_weight(parts)


def by_weight(parts: Sequence[Weighed]) -> tuple[Share, ...]:
    """Weighed fruit, each kind once, the heaviest first, equal weights as they were said."""
    grams: dict[str, float] = {}
    frozen: dict[str, bool] = {}
    for one in parts:
        net = net_g(one)
        grams[one.fruit] = grams.get(one.fruit, 0.0) + (net.likely if net else 0.0)
        frozen[one.fruit] = frozen.get(one.fruit, True) and one.frozen
    heaviest = sorted(grams, key=lambda name: -grams[name])
    return tuple(Share(name, grams[name], frozen[name]) for name in heaviest)


def named(parts: Sequence[Weighed]) -> str:
    """What a batch of them goes by: its fruit in order of weight, one by its key alone.

    >>> named([Weighed(fruit="blackberry", value=300, unit="g"),
    ...        Weighed(fruit="raspberry", value=0.5, unit="kg")])
    'raspberry and blackberry'
    """
    return joined([one.fruit for one in by_weight(parts)])


def joined(names: Sequence[str]) -> str:
    """Names in one.

    >>> joined(["raspberry", "blackberry", "plum"])
    'raspberry, blackberry and plum'
    """
    head, last = names[:-1], names[-1]
    return f"{', '.join(head)} and {last}" if head else last


def called(key: str) -> str:
    """A fruit as it is said.

    >>> called("elderberry-american-black"), called("sour-cherry")
    ('elderberry', 'sour cherry')
    """
    known = fruit(key)
    return (known.name if known else key.replace("-", " ")).split(" (")[0]


def kinds(batch: Batch) -> tuple[str, ...]:
    """The keys of its fruit, the heaviest first; the one that was named before any was weighed."""
    found = tuple(one.fruit for one in shares(batch))
    return found or ((batch.fruit,) if batch.fruit else ())


def is_mixed(batch: Batch) -> bool:
    """Whether there is more than one fruit in it."""
    return len(kinds(batch)) > 1


def figures(batch: Batch) -> Fruit | None:
    """What its fruit is made of, of a mixture by weight; None where it is not known."""
    found = shares(batch)
    if len(found) > 1:
        return mixed({one.fruit: one.grams for one in found})
    return fruit(batch.fruit) if batch.fruit else None


def outside(batch: Batch) -> tuple[str, ...]:
    """Its fruit that the recipe was not made for."""
    return tuple(name for name in kinds(batch) if name not in batch.recipe.fruits)


def pulp(batch: Batch, mash: Mash) -> tuple[float, float]:
    """The least and the most that stays in the cloth, less for what was frozen. [g/g]"""
    found = shares(batch)
    total = sum(one.grams for one in found)
    frozen = sum(one.grams for one in found if one.frozen) / total if total else 0.0
    fresh = (mash.pulp_low, mash.pulp_high)
    low, high = (
        one * (1 - frozen) + min(one, burst) * frozen
        for one, burst in zip(fresh, BURST_PULP, strict=True)
    )
    return low, high
