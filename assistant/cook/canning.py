"""Whether a batch went the tested way to the shelf: every condition by what was read and told.

What is not known is missing. One that is missing refuses the shelf, whatever else was done.
"""

from datetime import timedelta
from typing import Literal, get_args

from assistant.base.errors import OutOfRange
from assistant.calc.canning import Process, processes
from assistant.cook.basket import kinds
from assistant.cook.batch import Batch
from assistant.cook.finished_ph import STRIPS_PH, deciding_ph, low_in_acid
from assistant.cook.holding import heated
from assistant.cook.reply import Fact, Line
from assistant.cook.shipped import standing
from assistant.cook.stock import juice
from assistant.limits import above_makers

Missing = Literal[
    "recipe", "stopped", "fruit", "else", "sugar", "ph", "boil", "filling", "jar", "time", "seal"
]
"""What may be missing, in the order in which it is told."""
FILL_C = 85.0
"""The thermometer's last word before the filling; a hot pack is filled from the boil (this
project's own margin). [degC]"""
FILLED_WITHIN = timedelta(minutes=10)
BOILED_WITHIN = timedelta(minutes=60)
"""From the thermometer to the filling, and from the filling to the end of the boiling: longer, and
the jars were no longer hot (this project's own)."""
_MAY_GO_IN = frozenset(("main_sugar", "citric_acid"))


def process_of(batch: Batch) -> Process | None:
    """The tested process that its recipe follows; None where there is none."""
    return processes().get(batch.recipe.process)


def missing(batch: Batch) -> tuple[Missing, ...]:
    """Every condition that is not met, as far as is known; () where the shelf is open."""
    process = process_of(batch)
    if process is None or standing(batch.recipe) != "shipped":
        return ("recipe",)
    met: dict[Missing, bool] = {
        "recipe": True,
        "stopped": batch.barred is None and not batch.skipped,
        "fruit": bool(kinds(batch)) and {*kinds(batch)} <= {*process.fruits},
        "else": {a.name for a in batch.added} <= _MAY_GO_IN,
        "sugar": _sugared(batch, process),
        "ph": _sour(batch),
        "boil": heated(batch) == "all",
        "filling": _filled_hot(batch),
        "jar": _jars_fit(batch, process),
        "time": _boiled(batch, process),
        "seal": _sealed(batch),
    }
    return tuple(name for name in get_args(Missing) if not met[name])


def tested(batch: Batch) -> bool:
    """Whether every condition of a tested process is met."""
    return not missing(batch)


def _sugared(batch: Batch, process: Process) -> bool:
    stock = juice(batch)
    if stock is None or not stock.volume_ml.likely or batch.addition("main_sugar") is None:
        return False
    each = 1000 * batch.total("main_sugar") / stock.volume_ml.likely
    return process.sugar_low <= each <= process.sugar_high


def _sour(batch: Batch) -> bool:
    """Where makers stay; without a checked meter's word with the doubt of strips."""
    ph = deciding_ph(batch)
    unsure = 0.0 if batch.ph_by == "meter" else STRIPS_PH
    return ph is not None and not above_makers(ph + unsure) and not low_in_acid(batch)


def _filled_hot(batch: Batch) -> bool:
    filled = batch.bottled
    if filled is None:
        return False
    read = [t for t in batch.taken if t.what == "temperature" and t.at <= filled.at]
    return bool(read) and read[-1].base >= FILL_C and filled.at - read[-1].at <= FILLED_WITHIN


def _jars_fit(batch: Batch, process: Process) -> bool:
    filled = batch.bottled
    if filled is None:
        return False
    sizes = [lot.size_ml for lot in filled.lots] or [filled.size_ml]
    return all(size is not None and size <= process.most_ml for size in sizes)


def _boiled(batch: Batch, process: Process) -> bool:
    done, filled = batch.canned, batch.bottled
    if done is None or filled is None or not filled.at <= done.at <= filled.at + BOILED_WITHIN:
        return False
    try:
        return done.minutes >= process.minutes_at(done.altitude_m)
    except OutOfRange:
        return False


def _sealed(batch: Batch) -> bool:
    done = batch.canned
    return done is not None and done.sealed_at is not None


def shelf_lines(batch: Batch) -> tuple[Line, ...]:
    """What is still missing on the way, where its recipe has one; the first thing first."""
    process = process_of(batch)
    if process is None:
        return ()
    lines = [Line(id=f"shelf_{name}", rank="answer") for name in missing(batch)]
    source: dict[str, Fact] = {"title": process.title, "source": process.source}
    return (*lines, Line(id="shelf_source", rank="detail", facts=source))
