"""Which bottles of a batch are meant, where it was filled into several sorts.

A batch of one sort needs no telling, and keeps none. Of several, what becomes of a bottle must say
which; batches begun by earlier rules go on as they were, without.
"""

from assistant.cook.batch import Batch
from assistant.cook.reply import Fact, Line, Quantity
from assistant.facts.events import SORTS_COUNT
from assistant.facts.vessels import UNKNOWN_SIZE, Lot, Vessel, lot, words_of

_SAME_ML = 1.0
"""Sizes no further apart are one. [ml]"""


def sorts_filled(batch: Batch) -> tuple[Lot, ...]:
    """What was filled, each sort once; () before anything was."""
    return batch.bottled.sorts if batch.bottled else ()


def sorts_in_store(batch: Batch) -> tuple[Lot, ...]:
    """What is left of each sort; () where nothing is, or nobody can tell of which it is."""
    return tuple(lot(count, vessel) for vessel, count in sorts_left(batch) if count)


def sorts_left(batch: Batch) -> tuple[tuple[Vessel, int], ...]:
    """Every sort that was filled with how many are left; () where nobody can tell of which."""
    filled = sorts_filled(batch)
    if len(filled) > 1 and any(gone.vessel is None for gone in batch.stored.gone):
        return ()
    several = len(filled) > 1
    left = (in_store_of(batch, one.vessel) if several else batch.in_store for one in filled)
    return tuple((one.vessel, count) for one, count in zip(filled, left, strict=True))


def in_store_of(batch: Batch, vessel: Vessel | None) -> int:
    """Bottles of a sort still there; all for None."""
    if vessel is None:
        return batch.in_store
    filled = sum(one.count for one in sorts_filled(batch) if one.vessel == vessel)
    return max(0, min(batch.in_store, filled - batch.stored.gone_of(vessel)))


def closed_of(batch: Batch, vessel: Vessel | None) -> int:
    """Closed bottles of a sort still there; all for None."""
    if vessel is None:
        return batch.closed
    left = in_store_of(batch, vessel) - batch.stored.opened_of(vessel)
    return max(0, min(batch.closed, left))


def which(batch: Batch, told: Vessel | None) -> Vessel | Line | None:
    """The sort that is meant, None where the batch has but one; a line where that is not told.

    told : what was said of it
    """
    filled = sorts_filled(batch)
    if len(filled) < 2:
        fits = not filled or told is None or _fits(filled[0].vessel, told)
        return None if fits else _none(told)
    if told is None:
        left = sorts_in_store(batch)
        only = left[0].vessel if len(left) == 1 else _ask(batch)
        return only if batch.rules >= SORTS_COUNT else None
    found = [one.vessel for one in filled if one.vessel == told]
    found = found or [one.vessel for one in filled if _fits(one.vessel, told)]
    if len(found) == 1:
        return found[0]
    return _ask(batch) if found else _none(told)


def _fits(vessel: Vessel, told: Vessel) -> bool:
    """Whether so much as was said is true of it."""
    if told.of == "jar" != vessel.of or told.holds_ml not in (None, vessel.holds_ml):
        return False
    if vessel.size_ml is None or told.size_ml is None:
        return True
    return abs(vessel.size_ml - told.size_ml) <= _SAME_ML


def _none(told: Vessel | None) -> Line:
    return Line(id="none_of_size", rank="answer", facts=sized(told))


def _ask(batch: Batch) -> Line:
    return Line(id="which_size", rank="question", facts={"left": batch.in_store})


def counted(batch: Batch) -> tuple[Line, ...]:
    """What is left of each sort, read back; () for a batch of one sort."""
    if len(sorts_filled(batch)) < 2:
        return ()
    return tuple(count_line(one) for one in sorts_in_store(batch))


def count_line(one: Lot) -> Line:
    """So many of a sort."""
    facts = {"count": one.count, **sized(one.vessel, one.count)}
    return Line(id="vessels", rank="read_back", facts=facts)


def sized(vessel: Vessel | None, count: int = 0) -> dict[str, Fact]:
    """The facts of a sort: what it is called, and the syrup in one. [ml]"""
    inside = vessel.inside_ml if vessel else None
    size: Fact = UNKNOWN_SIZE if inside is None else Quantity(value=inside, unit="ml")
    return {"vessels": words_of(vessel, count), "size": size}
