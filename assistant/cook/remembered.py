"""What follows from the pan alone, reckoned once for as long as the pan stays as it is.

A step asks for the same syrup some ten times: for its totals, its dates, what is said of it.
Nothing but the recipe, the fruit, the readings and the additions makes it, and a batch never
changes them in place, so that the same objects give the same answer.
"""

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import TypeVar

from assistant.cook.batch import Batch

_KEPT = 64
"""Pans remembered for each question: a few batches at work, each with what it was before."""
Found = TypeVar("Found")


class _Pan:
    """What a batch's pan is known by; told from another by identity, since comparing takes long."""

    __slots__ = ("batch", "key", "parts")

    def __init__(self, batch: Batch) -> None:
        self.batch = batch
        self.parts = (batch.recipe, batch.taken, batch.added)
        self.key = (batch.fruit, *map(id, self.parts))

    def __hash__(self) -> int:
        return hash(self.key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Pan) and self.key == other.key


def by_the_pan(reckon: Callable[[Batch], Found]) -> Callable[[Batch], Found]:
    """The function, asked once for each pan; for what hangs on nothing else in a batch.

    What raises is reckoned, and raises, each time anew.
    """

    @lru_cache(maxsize=_KEPT)
    def once(pan: _Pan) -> Found:
        return reckon(pan.batch)

    @wraps(reckon)
    def asked(batch: Batch) -> Found:
        return once(_Pan(batch))

    return asked
