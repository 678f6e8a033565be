"""The same as last time: a new batch from an old one's recipe and fruit, with what was learnt."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from assistant.base.errors import OutOfRange, WrongUse
from assistant.base.units import Unit
from assistant.cook import Batch, fold
from assistant.cook.basket import is_mixed, shares
from assistant.cook.keeping import keeping
from assistant.facts.events import RULES, AnyEvent, Begin, Note, Reading, Weighed
from assistant.planning.differences import differences, yield_ml_per_kilo
from assistant.planning.trial import base_bounds, base_unit, first_events

Kind = Literal["amount", "juice", "ph", "brix", "hold", "bottled", "yield", "keep"]


@dataclass(frozen=True)
class Hint:
    """What was learnt last time.

    last : then [unit]; planned : what the recipe had asked for then, None for a result [unit]
    scaled : for the new weight; None where it does not grow with the batch or no weight is known
    """

    kind: Kind
    name: str
    last: float
    unit: Unit
    planned: float | None = None
    scaled: float | None = None


def scale_of(old: Batch, base: float | None) -> float | None:
    """How much bigger the new batch is. base : of the new one [g or ml]"""
    return None if base is None or old.start is None else base / old.start.base


def hints(events: Sequence[AnyEvent], base: float | None) -> tuple[Hint, ...]:
    """What went off plan last time, and the results, for a new weight.

    events : the old batch's journal; base : what the new one starts from [g or ml]
    """
    old, _ = fold(events)
    factor = scale_of(old, base)
    return (*_off_plan(events, factor), *_results(old, base))


def _off_plan(events: Sequence[AnyEvent], factor: float | None) -> Iterator[Hint]:
    for found in differences(events):
        if not found.off or found.kind in ("ph", "brix"):
            continue
        grows = factor is not None and found.kind != "hold"
        scaled = found.got * factor if grows and factor is not None else None
        yield Hint(found.kind, found.name, found.got, found.unit, found.planned.likely, scaled)


def _results(old: Batch, base: float | None) -> Iterator[Hint]:
    ph = old.last("ph")
    if ph is not None:
        yield Hint("ph", "ph", ph.base, "pH")
    for found in _brix_of(old):
        yield Hint("brix", "brix", found, "Brix")
    made = yield_ml_per_kilo(old)
    if made is not None:
        scaled = None if base is None else made * base / 1000.0
        yield Hint("yield", "yield", made, "ml", scaled=scaled)
    kept = keeping(old)
    if kept.days is not None and old.bottled is not None and not old.barred:
        yield Hint("keep", "keep", kept.days, "day")


def _brix_of(old: Batch) -> Iterator[float]:
    """Only a Brix that was read: a reckoned one says no more than the recipe."""
    read, sugar = old.last("brix"), old.addition("main_sugar")
    if read is not None and (sugar is None or read.at >= sugar.at):
        yield read.base


def again(
    events: Sequence[AnyEvent],
    batch_id: str,
    at: datetime,
    base: float | None = None,
    remarks: Sequence[str] = (),
) -> tuple[AnyEvent, ...]:
    """The first events of a new batch made like an old one.

    events : the old batch's journal; batch_id : the new one's name; at : now
    base : what the new one starts from, None where it is not weighed yet [g or ml]
    remarks : what to write into the new journal as notes
    Returns Begin with the old recipe, the fruit, its weight, the remark whose repeat this is, and
    the remarks. OutOfRange for a weight the recipe does not take.
    """
    old, _ = fold(events)
    first = events[0]
    if not isinstance(first, Begin):
        raise ValueError("a journal starts with Begin")
    begun = Begin(at=at, batch=batch_id, recipe=first.recipe, rules=RULES)
    said = _first(old, base, at)
    notes = (f"again of {old.id}", *remarks)
    made = (begun, *_in_kilos(said), *(Note(at=at, text=text) for text in notes))
    _check(made, base, old)
    return made


def _first(old: Batch, base: float | None, at: datetime) -> tuple[AnyEvent, ...]:
    """The fruit and its weight; of a mixture as much of each as then, by share."""
    found = shares(old)
    if len(found) < 2:
        return first_events(old.recipe, base, old.fruit, at)
    if base is None:
        return ()
    total = sum(one.grams for one in found)
    parts = tuple(
        Weighed(fruit=one.fruit, value=base * one.grams / total, unit="g", frozen=one.frozen)
        for one in found
    )
    return (Reading(at=at, what="fruit", value=base, unit="g", parts=parts),)


def _in_kilos(said: Sequence[AnyEvent]) -> Iterator[AnyEvent]:
    """A weight the way a cook says it."""
    for event in said:
        if isinstance(event, Reading) and event.unit == "g" and not event.parts:
            yield event.model_copy(update={"value": event.value / 1000.0, "unit": "kg"})
        else:
            yield event


def _check(made: Sequence[AnyEvent], base: float | None, old: Batch) -> None:
    batch, _ = fold(made)
    if base is not None and batch.start is None:
        low, high = base_bounds(old.recipe)
        unit = base_unit(old.recipe)
        raise OutOfRange(f"{old.recipe.base} for one batch", base, low, high, unit)
    known = old.fruit is not None and (base is not None or not is_mixed(old))
    if known and batch.fruit is None:
        raise WrongUse(f"{old.recipe.name} no longer takes {old.fruit}. Begin a new batch.")
