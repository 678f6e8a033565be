"""Temperatures: where a stage waits for one, and any other time."""

from assistant.cook.batch import Batch
from assistant.cook.changes import Step, heard
from assistant.cook.judging import limit_line
from assistant.cook.passing import doubts
from assistant.cook.reply import Line
from assistant.facts.events import Reading
from assistant.limits import tripped


def take_temperature(batch: Batch, event: Reading) -> Step:
    """The batch with the thermometer read: on to the next stage where it was waited for."""
    after, reply = heard(batch, event, _warning(batch, event))
    return after, reply.model_copy(update={"lines": (*reply.lines, *doubts(batch, event))})


def _warning(batch: Batch, event: Reading) -> tuple[Line, ...]:
    """Hotter than any hold of the recipe means it; a recipe that boils is not told off for it."""
    limit = tripped("temperature", event.base)
    ceilings = [s.ceiling_c for s in batch.recipe.stages if s.kind == "hold"]
    if limit is None or event.base <= max(ceilings, default=0.0):
        return ()
    return (limit_line(limit, event),)
