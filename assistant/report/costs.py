"""What a batch cost, by the prices somebody names."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from assistant.base.errors import WrongUse
from assistant.calc.cost import Cost, batch_cost, cost_of
from assistant.cook import Batch
from assistant.facts.stuff import AMOUNTS, STUFF, stuff_of, stuff_words

PRICED: tuple[str, ...] = (
    "fruit",
    "juice",
    *dict.fromkeys(row.of for row in AMOUNTS.values()),
    "bottle",
)
"""What can have a price: by the kilo, by the litre where it is poured, a bottle by the piece."""
_PACK = 1000.0


@dataclass(frozen=True)
class Priced:
    """The cost, whether it is shared among bottles, and what had no price."""

    cost: Cost
    bottles: int
    unpriced: tuple[str, ...]


def used(batch: Batch) -> dict[str, float]:
    """What went into a batch: g, or ml of what is poured; bottles by the piece."""
    found: dict[str, float] = {}
    if batch.start is not None:
        found[batch.recipe.base] = batch.start.base
    for added in batch.added:
        name = stuff_of(added.name)
        found[name] = found.get(name, 0.0) + added.amount
    if batch.bottled is not None:
        found["bottle"] = float(batch.bottled.count)
    return found


def priced(batch: Batch, prices: Mapping[str, float]) -> Priced:
    """The cost of a batch.

    prices : by name, for a kilo or a litre, or a piece of bottle [money]
    WrongUse for a name that nothing in a kitchen has, OutOfRange for a price below nothing.
    """
    own = batch.recipe.ingredients
    unknown = sorted(set(prices) - set(PRICED) - set(own))
    if unknown:
        known = ", ".join((*PRICED, *own))
        raise WrongUse(f"Nothing here is called {unknown[0]!r}. Prices go to: {known}.")
    parts = used(batch)
    packs = {name: 1.0 if name == "bottle" else _PACK for name in parts}
    lines = {n: cost_of(parts[n], packs[n], prices[n]) for n in parts if n in prices}
    free = tuple(n for n in parts if n not in prices and not (n in STUFF and STUFF[n].from_tap))
    bottles = batch.bottled.count if batch.bottled else 0
    return Priced(batch_cost(lines, bottles or 1), bottles, free)


def cost_record(found: Priced) -> dict[str, Any]:
    """The cost as a plain object."""
    return {
        "total": round(found.cost.total, 2),
        "per_bottle": round(found.cost.per_bottle, 2) if found.bottles else None,
        "lines": {name: round(price, 2) for name, price in found.cost.lines.items()},
        "unpriced": list(found.unpriced),
    }


def cost_lines(found: Priced) -> list[str]:
    """The cost as lines, in whatever money the prices were."""
    rows = [f"  {stuff_words(name):24} {price:10.2f}" for name, price in found.cost.lines.items()]
    rows.append(f"  {'together':24} {found.cost.total:10.2f}")
    if found.bottles:
        rows.append(f"  {'a bottle':24} {found.cost.per_bottle:10.2f}")
    if found.unpriced:
        rows.append(f"  without a price: {', '.join(map(stuff_words, found.unpriced))}")
    return rows
