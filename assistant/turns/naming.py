"""What the batches on a desk are called, and which of them a name means."""

from collections.abc import Sequence
from itertools import chain

from assistant.cook import Batch, step
from assistant.facts.events import AnyEvent, Choose, Reading

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


def goes_by(batch: Batch) -> tuple[str, ...]:
    """What a batch is called: its fruit, or its recipe where no fruit has been named."""
    recipe = batch.recipe.name.replace("-", " ")
    fruit = batch.fruit or (batch.recipe.fruits[0] if len(batch.recipe.fruits) == 1 else None)
    return (fruit.replace("-", " "), recipe) if fruit else (recipe,)


def fruit_in(events: tuple[AnyEvent, ...]) -> str:
    """The fruit that is named, "" where none is."""
    chosen = (e.value for e in events if isinstance(e, Choose))
    weighed = (e.parts[0].fruit for e in events if isinstance(e, Reading) and e.parts)
    return next(chain(chosen, weighed), "")


def own_names(batches: Sequence[Batch]) -> dict[str, str]:
    """By id, what each is called alone: with a number where another goes by that name too."""
    found: dict[str, str] = {}
    names = [goes_by(batch)[0] for batch in batches]
    for batch, name in zip(batches, names, strict=True):
        place = sum(other.id in found for other in batches if goes_by(other)[0] == name)
        if names.count(name) == 1:
            found[batch.id] = name
        else:
            found[batch.id] = f"{_ORDINALS[place]} {name}" if place < len(_ORDINALS) else batch.id
    return found


def all_names(batches: Sequence[Batch]) -> dict[str, tuple[str, ...]]:
    """By id, everything that each goes by, its own name first."""
    own = own_names(batches)
    return {batch.id: (own[batch.id], *goes_by(batch)) for batch in batches}


def either(names: Sequence[str]) -> str:
    """Names as one is asked which.

    >>> either(["raspberry", "rhubarb"])
    'the raspberry or the rhubarb'
    """
    return " or ".join(f"the {name}" for name in names)


def as_a_whole(batch: Batch, events: tuple[AnyEvent, ...]) -> tuple[AnyEvent, ...]:
    """Which fruit it is counts only with its weight: "one kilo of plums", said too late, is
    no reason to take the raspberries in the pan for plums."""
    if len(events) != 2 or not isinstance(events[0], Choose):
        return events
    chosen, reply = step(batch, events[0])
    if chosen.held and batch.start is None:
        return events[:1]
    weighed, _ = step(chosen, events[1])
    refused = any(line.rank == "limit" for line in reply.lines)
    return events if refused or weighed.before is chosen else events[1:]


def may_be_this(batch: Batch, events: tuple[AnyEvent, ...]) -> bool:
    """Whether "start a batch of raspberry" can mean the batch that has only just begun."""
    fresh = not (batch.start or batch.fruit)
    return fresh and fruit_in(events) in batch.recipe.fruits
