""" "Done", yes and no, choices, notes and the end: what is neither number nor question."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

from assistant.calc.fruits import fruit as fruit_figures
from assistant.cook.amounts import amount
from assistant.cook.batch import Added, Batch
from assistant.cook.changes import Step, changed, onward, stay, with_added
from assistant.cook.recipe import (
    Add,
    Bottling,
    Cool,
    Do,
    Heat,
    Hold,
    Measure,
    Option,
    Reduce,
    Rest,
    Stage,
)
from assistant.cook.reply import Line, Quantity, Reply
from assistant.cook.stages import announce
from assistant.facts.events import Choose, No, Note, Onward, Stop, Yes

REST_ENOUGH = 0.8
"""Share of a resting time after which nobody quibbles."""


def take_onward(batch: Batch, event: Onward) -> Step:
    """ "Done": on to the next stage, or a word about what the stage still waits for."""
    stage = batch.stage
    if stage is None:
        return stay(batch, *announce(batch, event.at))
    if batch.stopped_by:
        return stay(batch, Line(id="stopped_wait", rank="limit"))
    return _ONWARD[type(stage)](batch, stage, event.at)


def _do(batch: Batch, _stage: Do, at: datetime) -> Step:
    return onward(batch, batch, at)


def _add(batch: Batch, stage: Add, at: datetime) -> Step:
    """The planned amount is taken as what went in, since the cook named no other.

    Sorbate may have been dosed by the cook when it was asked about, and goes in once only.
    """
    planned = amount(batch, stage.amount)
    dosed = stage.amount == "sorbate" and batch.addition("sorbate") is not None
    if planned is None or dosed:
        return onward(batch, batch, at)
    unit = "ml" if planned.unit == "ml" else "g"
    added = Added(stage.amount, planned.value, unit, at)  # type: ignore[arg-type]
    return onward(batch, with_added(batch, added), at)


def _rest(batch: Batch, stage: Rest, at: datetime) -> Step:
    passed = max(0.0, (at - batch.entered_at).total_seconds())
    if passed >= REST_ENOUGH * stage.minutes * 60 or batch.insisted == stage.id:
        return onward(batch, batch, at)
    facts = {
        "passed": Quantity(value=round(passed), unit="s"),
        "rest": Quantity(value=stage.minutes, unit="min"),
    }
    return _warn(batch, Line(id="rest_short", rank="question", facts=facts))


def _measure(batch: Batch, stage: Measure, at: datetime) -> Step:
    """What all follows from must be measured; the rest can be gone without, at a told price."""
    if stage.reading == batch.recipe.base:
        return stay(batch, *announce(batch, at))
    return _at_a_price(batch, stage, at, _price(stage.reading))


def _price(reading: str) -> Line:
    """What going on without a reading costs."""
    if reading == "ph":
        return Line(id="without_ph", rank="question")
    return Line(id="without_reading", rank="question", facts={"what": reading})


def _heating(batch: Batch, stage: Heat | Hold, at: datetime) -> Step:
    return _at_a_price(batch, stage, at, Line(id="without_hold", rank="question"))


def _cool(batch: Batch, stage: Cool, at: datetime) -> Step:
    below = Quantity(value=stage.below_c, unit="degC", exact=True)
    line = Line(id="without_cooling", rank="question", facts={"below": below})
    return _at_a_price(batch, stage, at, line)


def _reduce(batch: Batch, stage: Reduce, at: datetime) -> Step:
    return _at_a_price(batch, stage, at, Line(id="without_weighing", rank="question"))


def _ask_again(batch: Batch, _stage: Option | Bottling, at: datetime) -> Step:
    return stay(batch, *announce(batch, at))


def _at_a_price(batch: Batch, stage: Stage, at: datetime, price: Line) -> Step:
    """The first "done" hears what going on without costs, the second goes on."""
    if batch.insisted == stage.id:
        return onward(batch, batch.with_skipped(stage.id), at)
    return _warn(batch, price)


def _warn(batch: Batch, line: Line) -> Step:
    stage = batch.stage
    return replace(batch, insisted=stage.id if stage else None), Reply(lines=(line,))


_ONWARD: dict[type, Callable[[Batch, Any, datetime], Step]] = {
    Do: _do,
    Add: _add,
    Rest: _rest,
    Measure: _measure,
    Heat: _heating,
    Hold: _heating,
    Reduce: _reduce,
    Cool: _cool,
    Option: _ask_again,
    Bottling: _ask_again,
}


def take_yes(batch: Batch, event: Yes) -> Step:
    """Yes to an option; a warned stage takes "done", not yes."""
    return _answer(batch, True, event.at)


def take_no(batch: Batch, event: No) -> Step:
    """No to an option."""
    return _answer(batch, False, event.at)


def _answer(batch: Batch, value: bool, at: datetime) -> Step:
    stage = batch.stage
    if not isinstance(stage, Option):
        return stay(batch, Line(id="no_question", rank="answer"), *announce(batch, at))
    return onward(batch, batch.with_choice(stage.option, value), at)


def take_choice(batch: Batch, event: Choose) -> Step:
    """Which fruit it is, or an option with or without."""
    if event.option == "fruit":
        return _choose_fruit(batch, event)
    stage = batch.stage
    value = event.value in ("yes", "with")
    if isinstance(stage, Option) and stage.option == event.option:
        return onward(batch, batch.with_choice(event.option, value), event.at)
    offered = {s.option for s in batch.recipe.stages if isinstance(s, Option)}
    if event.option not in offered:
        return stay(batch, Line(id="not_in_recipe", rank="answer"))
    return stay(batch, Line(id="ask_later", rank="answer"), *announce(batch, event.at))


def _choose_fruit(batch: Batch, event: Choose) -> Step:
    figures = fruit_figures(event.value)
    after = replace(batch, fruit=event.value)
    low_acid = figures is not None and figures.acidity_class == "low-acid"
    if low_acid and event.value not in batch.recipe.fruits:
        facts = {"fruit": event.value}
        return stay(batch, Line(id="fruit_low_acid", rank="limit", facts=facts))
    lines: tuple[Line, ...] = (
        Line(id="fruit_noted", rank="read_back", facts={"fruit": event.value}),
    )
    if event.value not in batch.recipe.fruits:
        lines = (*lines, Line(id="fruit_not_in_recipe", rank="caution"))
    return changed(batch, after), Reply(lines=(*lines, *announce(after, event.at)))


def take_note(batch: Batch, event: Note) -> Step:
    """A remark kept with the batch."""
    after = replace(batch, notes=(*batch.notes, event.text))
    return changed(batch, after), Reply(lines=(Line(id="noted", rank="read_back"),))


def take_stop(batch: Batch, _event: Stop) -> Step:
    """The session ends; the batch waits."""
    return stay(batch, Line(id="session_ends", rank="answer"))
