"""What is still to go in: acid that is in the pan already is part of every later dose."""

from assistant.cook.amounts import amount
from assistant.cook.batch import Batch
from assistant.cook.reply import Quantity
from assistant.facts.stuff import row_of, stuff_of

LEAST_G = 0.05
"""Less than this nobody weighs (common practice, no source). [g]"""


def due(batch: Batch, name: str) -> Quantity | None:
    """The planned amount; of an acid less what has gone in of it; None until it can be reckoned.

    A batch of older rules was told the whole dose each time, and so it counts.
    """
    planned = amount(batch, name)
    if planned is None or not batch.rules or not row_of(name).acid:
        return planned
    gone = acid_in(batch, stuff_of(name))
    ends = (planned.low, planned.value, planned.high)
    low, value, high = (None if end is None else max(0.0, end - gone) for end in ends)
    return planned.model_copy(update={"low": low, "value": value or 0.0, "high": high})


def acid_in(batch: Batch, stuff: str) -> float:
    """All that went in of an acid, under whatever name. [g]"""
    return sum(a.amount for a in batch.added if stuff_of(a.name) == stuff)


def enough_in(batch: Batch, name: str) -> bool:
    """Whether nothing of it is left to go in, since all of it is there."""
    left = due(batch, name)
    return (
        bool(batch.rules)
        and left is not None
        and batch.addition(name) is not None
        and left.value < LEAST_G
    )
