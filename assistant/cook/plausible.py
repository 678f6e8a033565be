"""How much of a thing can be meant: by the size of the batch, whatever stage it stands at."""

from assistant.cook.amounts import amount
from assistant.cook.batch import Batch
from assistant.cook.stock import syrup
from assistant.facts.events import Reading
from assistant.facts.stuff import row_of, stuff_of

PLANS = 2.0
"""Up to so many times what the recipe plans nobody quibbles (common practice, no source)."""
_SAME = 0.01
"""Said twice within this share of itself, an amount is meant."""


def most_of(batch: Batch, stuff: str) -> float | None:
    """The most of a stuff that such a batch takes in all; None where nothing tells. [g or ml]"""
    each, stock = row_of(stuff).most, syrup(batch)
    if each is None or stock is None:
        return None
    planned = sum(_planned(batch, name) for name in batch.recipe.added if stuff_of(name) == stuff)
    return max(each * stock.volume_ml.likely / 1000, PLANS * planned)


def _planned(batch: Batch, name: str) -> float:
    found = amount(batch, name)
    return found.value if found else 0.0


def asked_twice(batch: Batch, event: Reading) -> bool:
    """Whether the same amount of the same was asked about just now."""
    if batch.asked_again is None or batch.asked_again[0] != event.what:
        return False
    before = batch.asked_again[1]
    return abs(event.base - before) <= _SAME * abs(before)
