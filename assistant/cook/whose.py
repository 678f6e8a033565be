"""Whose an event can be, where several batches are at work: pure questions to each of them."""

from collections.abc import Iterable

from assistant.cook.batch import Batch
from assistant.cook.timers import stopping
from assistant.cook.which_fruit import begun_with, takes_fruit
from assistant.facts.events import AnyEvent, Choose, Reading, TimerStop


def may_be_for(batch: Batch, events: Iterable[AnyEvent]) -> bool:
    """Whether what was told can be this batch's: no rhubarb is weighed for a batch of plums."""
    told = tuple(events)
    fruits = {e.value for e in told if isinstance(e, Choose) and e.option == "fruit"}
    mixed = [e for e in told if isinstance(e, Reading) and e.parts]
    if any(e.more != (batch.start is not None) for e in mixed):
        return False
    return all(takes_fruit(batch, fruit) for fruit in fruits)


def has_timer_for(batch: Batch, events: Iterable[AnyEvent]) -> bool:
    """Whether it has a timer that a wish to stop one can mean."""
    return any(isinstance(e, TimerStop) and bool(stopping(batch, e)) for e in events)


def can_be_called(batch: Batch) -> tuple[str, ...]:
    """The fruits by which a batch can be meant: its own, or those of its recipe while none is."""
    own = begun_with(batch)
    return (own,) if own else batch.recipe.fruits
