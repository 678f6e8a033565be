"""What can be said of a batch, yes or no: the conditions that answer cards name."""

from collections.abc import Callable
from datetime import datetime

from assistant.cook.batch import Batch
from assistant.cook.finished_ph import low_in_acid
from assistant.cook.holding import held, hold_stage
from assistant.cook.keeping import closed_until
from assistant.cook.kinds import Measure
from assistant.cook.stock import syrup
from assistant.facts.stuff import PRESERVATIVES
from assistant.limits import above_makers, limit_named

Condition = Callable[[Batch, datetime], bool]


def holds(name: str, batch: Batch, at: datetime) -> bool:
    """Whether a condition holds; "!" before its name turns it round. KeyError for no such name."""
    if name.startswith("!"):
        return not CONDITIONS[name[1:]](batch, at)
    return CONDITIONS[name](batch, at)


def _kind(batch: Batch) -> str:
    return batch.stage.kind if batch.stage else ""


def _at(*kinds: str) -> Condition:
    return lambda batch, _at: _kind(batch) in kinds


def _in_the_pan(name: str) -> Condition:
    return lambda batch, _at: batch.addition(name) is not None


def _uses(name: str) -> Condition:
    return lambda batch, _at: name in batch.recipe.amounts


def _past_the_hold(batch: Batch) -> bool:
    hold = hold_stage(batch)
    ids = [stage.id for stage in batch.stages]
    return hold is not None and (batch.stage is None or batch.stage_index > ids.index(hold.id))


def _stopped_for(batch: Batch) -> str:
    """What the limit that holds the batch is about, "" where none does."""
    limit = limit_named(batch.stopped_by)
    return limit.quantity if limit else ""


def _ph(batch: Batch) -> float | None:
    read = batch.last("ph")
    return read.base if read else None


def _brix_below(batch: Batch, by: float) -> bool:
    read = batch.last("brix")
    return read is not None and read.base < batch.recipe.targets.brix - by


def _brix_above(batch: Batch, by: float) -> bool:
    read = batch.last("brix")
    return read is not None and read.base > batch.recipe.targets.brix + by


def _over_its_date(batch: Batch, at: datetime) -> bool:
    until = closed_until(batch, at) if batch.bottled else None
    return until is not None and at.date() > until


def _hotter_than_wanted(batch: Batch) -> bool:
    hold, read = hold_stage(batch), batch.last("temperature")
    return hold is not None and read is not None and read.base > hold.ceiling_c


CONDITIONS: dict[str, Condition] = {
    "weighed": lambda batch, _at: batch.start is not None,
    "has_fruit": lambda batch, _at: batch.recipe.base == "fruit",
    "fruit_named": lambda batch, _at: batch.fruit is not None,
    "crushing_sugar_in": _in_the_pan("crushing_sugar"),
    "water_in": _in_the_pan("hot_water"),
    "sugar_in": _in_the_pan("main_sugar"),
    "acid_in": _in_the_pan("citric_acid"),
    "sorbate_in": _in_the_pan("sorbate"),
    "uses_sugar": _uses("main_sugar"),
    "uses_citric": _uses("citric_acid"),
    "uses_ascorbic": _uses("ascorbic_acid"),
    "uses_glycerin": _uses("glycerin"),
    "uses_sorbate": _uses("sorbate"),
    "uses_vinegar": _uses("vinegar"),
    "uses_gum": _uses("gum_arabic"),
    "uses_water": _uses("hot_water"),
    "has_hold": lambda batch, _at: hold_stage(batch) is not None,
    "held": lambda batch, _at: held(batch).complete,
    "hold_missed": lambda batch, _at: _past_the_hold(batch) and not held(batch).complete,
    "too_hot": lambda batch, _at: _hotter_than_wanted(batch),
    "heat_read": lambda batch, _at: batch.last("temperature") is not None,
    "heating": _at("heat", "hold"),
    "holding": _at("hold"),
    "resting": _at("rest"),
    "cooling": _at("cool"),
    "reducing": _at("reduce"),
    "adding": _at("add"),
    "measuring": _at("measure"),
    "choosing": _at("option"),
    "bottling": _at("bottle"),
    "straining": lambda batch, _at: (
        batch.stage is not None and batch.stage.id in ("strain", "make_up")
    ),
    "juice_measured": lambda batch, _at: (
        batch.last("juice") is not None and batch.recipe.base != "juice"
    ),
    "ph_read": lambda batch, _at: _ph(batch) is not None,
    "ph_below_4": lambda batch, _at: not above_makers(_ph(batch) or 14.0),
    "low_acid": lambda batch, _at: low_in_acid(batch),
    "stopped": lambda batch, _at: batch.stopped,
    "ph_too_high": lambda batch, _at: _stopped_for(batch) == "ph",
    "overdosed": lambda batch, _at: _stopped_for(batch) in PRESERVATIVES,
    "barred": lambda batch, _at: batch.barred is not None,
    "brix_read": lambda batch, _at: batch.last("brix") is not None,
    "brix_low": lambda batch, _at: _brix_below(batch, 1.0),
    "brix_high": lambda batch, _at: _brix_above(batch, 1.0),
    "syrup_known": lambda batch, _at: syrup(batch) is not None,
    "bottled": lambda batch, _at: batch.bottled is not None,
    "finished": lambda batch, _at: batch.ended == "finished",
    "opened": lambda batch, _at: batch.stored.open_count > 0,
    "given_away": lambda batch, _at: batch.stored.used > 0,
    "over_its_date": _over_its_date,
    "measuring_ph": lambda batch, _at: (
        isinstance(batch.stage, Measure) and batch.stage.reading == "ph"
    ),
}
