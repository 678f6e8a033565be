"""Brix against the recipe's target: where it may be read, and what mends it afterwards."""

from assistant.base.errors import OutOfRange
from assistant.calc.sugar import sugar_for_brix, water_for_brix
from assistant.cook.batch import Batch
from assistant.cook.kinds import Add, Reduce
from assistant.cook.reply import Line, Quantity
from assistant.cook.stock import syrup
from assistant.facts.stuff import stuff_of

NEAR_BRIX = 1.0
"""So near the target nothing is mended: what a hand refractometer and a warm drop lose (common
practice, no source). [Brix]"""


def mended(batch: Batch) -> tuple[Line, ...]:
    """The sugar or the water that brings the syrup, as it was read last, to the target.

    () before all sugar is in, near the target, and for a recipe that adds no sugar and is too thin.
    """
    read, stock, target = batch.last("brix"), syrup(batch), batch.recipe.targets.brix
    if read is None or stock is None or not target or not _sweetened(batch):
        return ()
    if abs(read.base - target) <= NEAR_BRIX:
        return (Line(id="brix_near", rank="answer", facts={"target": _brix(target)}),)
    low = read.base < target
    if low and "main_sugar" not in batch.recipe.amounts:
        return (Line(id="brix_boil_on", rank="answer", facts={"target": _brix(target)}),)
    reckon = sugar_for_brix if low else water_for_brix
    try:
        need = reckon(stock.mass_g.likely, read.base, target)
    except OutOfRange:
        return ()
    facts = {"need": Quantity(value=need, unit="g" if low else "ml"), "target": _brix(target)}
    return (Line(id="brix_low" if low else "brix_high", rank="do", facts=facts),)


def to_target(batch: Batch) -> tuple[Line, ...]:
    """What the Brix that was read lacks, while nothing went in since; () where it lacks nothing.

    Whoever asks how much sugar or water after a reading asks for that, not for what went in.
    """
    read = batch.last("brix")
    since = (a for a in batch.added if read is not None and a.at > read.at)
    if read is None or any(stuff_of(a.name) in ("sugar", "water") for a in since):
        return ()
    lacking = mended(batch)
    return () if any(line.id == "brix_near" for line in lacking) else lacking


def place(batch: Batch) -> tuple[Line, ...]:
    """Once the sweetness is made, that it may be read now; () anywhere else."""
    before = batch.stages[batch.stage_index - 1] if batch.stage_index else None
    sweet = isinstance(before, Reduce) or (
        isinstance(before, Add) and before.amount == "main_sugar"
    )
    if not sweet or not batch.recipe.targets.brix:
        return ()
    facts = {"target": _brix(batch.recipe.targets.brix)}
    return (Line(id="brix_may_be_read", rank="detail", facts=facts),)


def _sweetened(batch: Batch) -> bool:
    """Whether what makes it sweet is done: the main sugar in, or what the recipe boils down."""
    if "main_sugar" in batch.recipe.amounts:
        return batch.addition("main_sugar") is not None
    return any(isinstance(s, Reduce) for s in batch.stages[: batch.stage_index])


def _brix(value: float) -> Quantity:
    return Quantity(value=value, unit="Brix", exact=True)
