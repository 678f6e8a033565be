"""Where a batch went another way than its recipe: amounts, readings, hold, bottles."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.base.units import Unit
from assistant.calc.spread import Spread
from assistant.cook import Batch, fold
from assistant.cook.holding import held, hold_stage
from assistant.cook.reply import Quantity
from assistant.cook.stock import juice, made_up_volume, syrup
from assistant.facts.events import AnyEvent
from assistant.planning.replay import planned_amounts

WORTH_A_WORD = 0.05
"""Share of a planned amount that a cook's scales and jugs are off by without anyone noticing.
Common practice, no source."""

Kind = Literal["amount", "juice", "ph", "brix", "hold", "bottled"]


@dataclass(frozen=True)
class Difference:
    """What was planned and what became of it.

    kind : amount, juice, ph, brix, hold or bottled; name : the amount's, else the kind
    planned : with its spread [unit]; got : in the end [unit]; off : worth a word
    """

    kind: Kind
    name: str
    planned: Spread
    got: float
    unit: Unit
    off: bool


def differences(events: Sequence[AnyEvent]) -> tuple[Difference, ...]:
    """Everything that a batch has both a plan and a figure for, in the recipe's order."""
    batch, _ = fold(events)
    planned = planned_amounts(events)
    return (
        *(_amount(batch, name, planned[name]) for name in planned if batch.total(name)),
        *_juice(batch),
        *_ph(batch),
        *_brix(batch),
        *_hold(batch),
        *_bottled(batch),
    )


def bottled_ml(batch: Batch) -> float | None:
    """Syrup in the bottles, where their size was said. [ml]"""
    return batch.bottled.volume_ml if batch.bottled else None


def yield_ml_per_kilo(batch: Batch) -> float | None:
    """Syrup for each kilo of fruit, or litre of juice or water: bottled, else reckoned. [ml]

    None before the main sugar or what else makes the syrup has gone in.
    """
    if batch.start is None:
        return None
    made = bottled_ml(batch)
    if made is None and (batch.addition("main_sugar") or batch.last("yield")):
        stock = syrup(batch)
        made = stock.volume_ml.likely if stock else None
    return None if made is None else 1000.0 * made / batch.start.base


def _amount(batch: Batch, name: str, planned: Quantity) -> Difference:
    low = planned.value if planned.low is None else planned.low
    high = planned.value if planned.high is None else planned.high
    spread, got = Spread(low, planned.value, high), batch.total(name)
    return Difference("amount", name, spread, got, planned.unit, _is_off(spread, got))


def _is_off(planned: Spread, got: float) -> bool:
    return abs(got - planned.likely) > WORTH_A_WORD * abs(planned.likely)


def _juice(batch: Batch) -> Iterator[Difference]:
    stock = juice(batch)
    if stock is None or not stock.measured or batch.recipe.base == "juice":
        return
    wanted, got = Spread.exactly(made_up_volume(batch)), stock.volume_ml.likely
    yield Difference("juice", "juice", wanted, got, "ml", _is_off(wanted, got))


def _ph(batch: Batch) -> Iterator[Difference]:
    read, targets = batch.last("ph"), batch.recipe.targets
    if read is not None:
        middle = (targets.ph_low + targets.ph_high) / 2
        window = Spread(targets.ph_low, middle, targets.ph_high)
        yield Difference("ph", "ph", window, read.base, "pH", not window.about(read.base))


def _brix(batch: Batch) -> Iterator[Difference]:
    sugared = batch.addition("main_sugar") is not None
    stock = syrup(batch) if sugared else None
    if stock is not None:
        aim = Spread.exactly(batch.recipe.targets.brix)
        off = not stock.brix.low - 1.0 <= aim.likely <= stock.brix.high + 1.0
        yield Difference("brix", "brix", aim, stock.brix.likely, "Brix", off)


def _hold(batch: Batch) -> Iterator[Difference]:
    stage = hold_stage(batch)
    done = held(batch)
    if stage is not None and (done.seconds or stage.id in batch.skipped):
        aim = Spread.exactly(stage.seconds)
        yield Difference("hold", "hold", aim, done.seconds, "s", not done.complete)


def _bottled(batch: Batch) -> Iterator[Difference]:
    """What sticks, and the rest that fills no bottle, are nothing to remark upon."""
    made, stock, filled = bottled_ml(batch), syrup(batch), batch.bottled
    if made is not None and stock is not None and filled is not None:
        largest = max(lot.size_ml or 0.0 for lot in filled.sorts)
        least = stock.volume_ml.low * (1 - WORTH_A_WORD) - largest
        off = not least <= made <= stock.volume_ml.high * (1 + WORTH_A_WORD)
        yield Difference("bottled", "bottled", stock.volume_ml, made, "ml", off)
