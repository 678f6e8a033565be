"""Stages out of their order, where the recipe allows it, and turning away for a while."""

from dataclasses import replace
from datetime import datetime

from assistant.cook.batch import Batch
from assistant.cook.changes import Step, changed, stay, wanted
from assistant.cook.kinds import Heat, Hold, Measure, Stage
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.facts.events import Later, Pause, Repeat


def take_later(batch: Batch, event: Later) -> Step:
    """The next stage first, where both may wait."""
    stage, place = batch.stage, _next_place(batch)
    if stage is None or place is None:
        return stay(batch, *announce(batch, event.at))
    if not (stage.may_wait and batch.stages[place].may_wait):
        return stay(batch, Line(id="keeps_its_place", rank="answer"), *_why(stage))
    order = [s.id for s in batch.stages]
    order.insert(place, order.pop(batch.stage_index))
    return _arrived(batch, tuple(order), event.at)


def _next_place(batch: Batch) -> int | None:
    """Where the next stage stands that is to be done."""
    places = range(batch.stage_index + 1, len(batch.stages))
    return next((n for n in places if wanted(batch, batch.stages[n])), None)


def _why(stage: Stage) -> tuple[Line, ...]:
    """The stage's reason, where it can be told without its figures."""
    return () if "{" in stage.why else (Line(id="why", rank="answer", text=stage.why),)


def take_repeat(batch: Batch, event: Repeat) -> Step:
    """A stage that was done before comes once more, and then the one that was due."""
    if batch.stage is None or batch.stopped_by:
        return stay(batch, *announce(batch, event.at))
    found = _done(batch, event.stage)
    if found is None:
        return stay(batch, Line(id="not_done_yet", rank="answer"), *announce(batch, event.at))
    if not found.repeatable:
        return stay(batch, Line(id="done_once", rank="answer"), *announce(batch, event.at))
    here, ids = batch.stage_index, [s.id for s in batch.stages]
    order = (*ids[:here], *_with_its_hold(batch, found), *ids[here:])
    return _arrived(batch, order, event.at)


def _done(batch: Batch, name: str | None) -> Stage | None:
    """The last stage done that goes by a word; without one, the last that may be repeated."""
    passed = [s for s in batch.stages[: batch.stage_index] if wanted(batch, s)]
    if name is None:
        return next((s for s in reversed(passed) if s.repeatable), passed[-1] if passed else None)
    return next((s for s in reversed(passed) if _goes_by(s, name)), None)


def _goes_by(stage: Stage, name: str) -> bool:
    reading = stage.reading if isinstance(stage, Measure) else ""
    return name in (stage.kind, stage.id, reading)


def _with_its_hold(batch: Batch, stage: Stage) -> tuple[str, ...]:
    """Heated again is held again: the one without the other would count for nothing."""
    stages = batch.recipe.stages
    after = stages[stages.index(stage) + 1 :][:1]
    hold = tuple(s.id for s in after if isinstance(stage, Heat) and isinstance(s, Hold))
    return (stage.id, *hold)


def _arrived(batch: Batch, order: tuple[str, ...], at: datetime) -> Step:
    after = replace(batch, order=order, entered_at=at, insisted=None)
    after = changed(batch, after)
    return after, Reply(lines=announce(after, at, arriving=True))


def take_pause(batch: Batch, _event: Pause) -> Step:
    """Timers run on; nothing is asked until the cook is back. Fire is not left alone."""
    hot = batch.stage is not None and batch.stage.fire_c() is not None
    caution = (Line(id="pause_heat", rank="caution"),) if hot else ()
    paused = replace(batch, paused=True)
    return paused, Reply(lines=(Line(id="paused", rank="answer"), *caution))
