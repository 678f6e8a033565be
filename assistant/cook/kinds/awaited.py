"""Readings as they are waited for: what a small kitchen can mean, and the latest of the kind."""

from assistant.base.units import dimension
from assistant.cook.batch import Batch
from assistant.cook.expected import Expected, expected_amount
from assistant.facts.asked import Awaited
from assistant.facts.events import What
from assistant.facts.stuff import RANGES, UNITS, read_as
from assistant.limits import ACID_FOOD_PH, MAKERS_PH


def awaited(batch: Batch, what: What) -> Awaited:
    """A reading that is welcome now, within what a small kitchen can mean."""
    low, high = RANGES[what]
    last = batch.last(what)
    return Awaited(
        what=what,
        units=UNITS[what],
        low=low,
        high=high,
        last=last.base if last else None,
        last_at=last.at if last else None,
    )


def awaited_ph(batch: Batch) -> Awaited:
    """A pH: every one is a safety decision, whatever was read before."""
    plain = awaited(batch, "ph")
    return plain.model_copy(
        update={"decides": (MAKERS_PH, ACID_FOOD_PH), "confirm": True, "last": None}
    )


def awaited_amount(batch: Batch, name: str) -> tuple[Awaited, ...]:
    """What an amount of the recipe is read as; () for one that nobody can say."""
    what = read_as(name)
    if what is None:
        return ()
    return (planned(awaited(batch, what), expected_amount(batch, name)),)


def planned(plain: Awaited, expected: Expected | None) -> Awaited:
    """A reading with what the plan lets expect of it, where it is told in the same kind of unit."""
    if expected is None or dimension(expected.unit) not in map(dimension, plain.units):
        return plain
    plan = {"planned": expected.likely, "spread": (expected.low, expected.high)}
    return plain.model_copy(update=plan)
