"""Temperatures: warming, holding, cooling, and any other time."""

from assistant.cook.batch import Batch
from assistant.cook.changes import Step, changed, onward
from assistant.cook.holding import current_run
from assistant.cook.judging import limit_line, read_back
from assistant.cook.kinds import Add, Cool, Heat, Hold
from assistant.cook.reply import Line, Quantity, Reply
from assistant.cook.warming import seconds_to
from assistant.facts.events import Reading
from assistant.limits import tripped


def take_temperature(batch: Batch, event: Reading) -> Step:
    """The batch with the thermometer read: on to the next stage where it was waited for."""
    after = batch.with_reading(event)
    warned = _warning(batch, event)
    match batch.stage:
        case Heat() as stage:
            return _heating(batch, after, event, stage, warned)
        case Hold() as stage:
            return _holding(batch, after, event, stage, warned)
        case Cool() as stage:
            return _cooling(batch, after, event, stage)
        case Add(amount="main_sugar"):
            warned = warned or _too_warm_for_sugar(batch, event)
    return changed(batch, after), Reply(lines=(read_back(event), *warned))


def _warning(batch: Batch, event: Reading) -> tuple[Line, ...]:
    """Hotter than any hold of the recipe means it; a recipe that boils is not told off for it."""
    limit = tripped("temperature", event.base)
    ceilings = [s.ceiling_c for s in batch.recipe.stages if isinstance(s, Hold)]
    if limit is None or event.base <= max(ceilings, default=0.0):
        return ()
    return (limit_line(limit, event),)


def _heating(
    batch: Batch, after: Batch, event: Reading, stage: Heat, warned: tuple[Line, ...]
) -> Step:
    if event.base >= stage.target_c:
        return onward(batch, after, event.at, read_back(event), *warned)
    line = _to_go(after, stage, max(1, round(stage.target_c - event.base)))
    return changed(batch, after), Reply(lines=(read_back(event), line))


def _to_go(after: Batch, stage: Heat, left: int) -> Line:
    """Degrees still missing, with the minutes they will take once two readings tell them."""
    seconds = seconds_to(after, stage.target_c)
    if seconds is None:
        return Line(id="to_go", rank="answer", facts={"left": left})
    time = Quantity(value=seconds, unit="s")
    return Line(id="to_go_in", rank="answer", facts={"left": left, "time": time})


def _holding(
    batch: Batch, after: Batch, event: Reading, stage: Hold, warned: tuple[Line, ...]
) -> Step:
    run = current_run(after, stage)
    counted = Quantity(value=round(run.seconds), unit="s")
    if run.complete:
        done = Line(id="held", rank="answer", facts={"counted": counted})
        margin = Line(id="held_margin", rank="detail", facts={"times": f"{run.margin:.1f}"})
        return onward(batch, after, event.at, read_back(event), done, *warned, margin)
    target = Quantity(value=stage.target_c, unit="degC", exact=True)
    if event.base < stage.target_c:
        line = Line(id="hold_lost", rank="caution", facts={"target": target})
    else:
        left = Quantity(value=max(1, round(stage.seconds - run.seconds)), unit="s")
        line = Line(id="hold_on", rank="answer", facts={"counted": counted, "left": left})
    if not warned and event.base > stage.ceiling_c:
        ceiling = Quantity(value=stage.ceiling_c, unit="degC", exact=True)
        warned = (Line(id="hold_hot", rank="caution", facts={"ceiling": ceiling}),)
    return changed(batch, after), Reply(lines=(read_back(event), line, *warned))


def _cooling(batch: Batch, after: Batch, event: Reading, stage: Cool) -> Step:
    if event.base <= stage.below_c:
        return onward(batch, after, event.at, read_back(event))
    below = Quantity(value=stage.below_c, unit="degC", exact=True)
    line = Line(id="still_warm", rank="answer", facts={"below": below})
    return changed(batch, after), Reply(lines=(read_back(event), line))


def _too_warm_for_sugar(batch: Batch, event: Reading) -> tuple[Line, ...]:
    cool = next((s for s in batch.recipe.stages if isinstance(s, Cool)), None)
    if cool is None or event.base <= cool.below_c:
        return ()
    below = Quantity(value=cool.below_c, unit="degC", exact=True)
    return (Line(id="too_warm_for_sugar", rank="caution", facts={"below": below}),)
