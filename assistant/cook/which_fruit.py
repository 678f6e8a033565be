"""Which fruit a batch can be of: another one than it was begun with is asked about."""

from dataclasses import replace

from assistant.cook.batch import Batch
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import main_sugar


def takes_fruit(batch: Batch, fruit: str) -> bool:
    """Whether a batch waits for the weight of such a fruit, so that "2 kg of it" can be for it."""
    if batch.start is not None or batch.recipe.base != "fruit":
        return False
    known = begun_with(batch)
    return fruit == known if known else fruit in batch.recipe.fruits


def begun_with(batch: Batch) -> str | None:
    """The fruit that a batch is of: the one that was named, else the only one of its recipe."""
    only = batch.recipe.fruits[0] if len(batch.recipe.fruits) == 1 else None
    return batch.fruit or only


def other_fruit(batch: Batch, fruit: str) -> tuple[Line, ...]:
    """The question before another fruit counts, and what it changes; () where it may at once.

    Before the weighing, one fruit of the recipe may take the place of another.
    """
    was = begun_with(batch)
    if was is None or was == fruit:
        return ()
    if batch.start is None and fruit in batch.recipe.fruits:
        return ()
    facts: dict[str, Fact] = {"was": was.replace("-", " "), "fruit": fruit.replace("-", " ")}
    before, after = main_sugar(batch), main_sugar(replace(batch, fruit=fruit))
    if before is None or after is None or batch.addition("main_sugar") is not None:
        return (Line(id="ask_other_fruit", rank="question", facts=facts),)
    facts["before"] = Quantity(value=before.likely, unit="g")
    facts["after"] = Quantity(value=after.likely, unit="g")
    return (Line(id="ask_other_fruit_sugar", rank="question", facts=facts),)
