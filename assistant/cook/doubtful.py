"""What is asked before it counts: amounts far off the plan, counts that can't be, another fruit."""

from assistant.cook.additions import added_as, sours
from assistant.cook.batch import Added, Batch
from assistant.cook.expected import (
    Expected,
    expected_amount,
    expected_juice,
    expected_syrup,
    odd_count,
    off_plan_line,
)
from assistant.cook.filling import odd_filling
from assistant.cook.kinds import Add, Measure, Reduce
from assistant.cook.own import named, words_of
from assistant.cook.plausible import most_of
from assistant.cook.put_right import doubted
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.spooned import can_be_weighed
from assistant.cook.stock import start_mass
from assistant.cook.totals import stuff_total
from assistant.cook.weighing import counted, summed
from assistant.cook.which_fruit import other_fruit
from assistant.facts.events import AnyEvent, Bottle, Choose, Correct, Reading
from assistant.facts.stuff import OWN, PRESERVATIVES, STUFF, stuff_of, stuff_words

MOST_OF_PLAN = 2.0
"""Beside its stage, up to so many times the plan in all nobody quibbles (common practice, no
source)."""
MORE_LEFT = 1.5
"""Of a reduction's start, with sugar and water on top, at the most (common practice, no source)."""
LARGEST_BASE = 25_000.0
"""Of fruit, juice or water to begin with, more than the pans of a small kitchen hold: common
practice, no source. [g or ml]"""
Lines = tuple[Line, ...]


def doubts_about(batch: Batch, event: AnyEvent) -> Lines:
    """The question that an event raises, () where it may count at once.

    batch : before the event
    """
    match event:
        case Reading(what="bottles"):
            return odd_count(batch, round(event.value), None)
        case Bottle():
            return odd_filling(batch, event.lots)
        case Correct():
            return doubted(batch, event)
        case Choose(option="fruit"):
            return other_fruit(batch, event.value)
        case Reading() if event.parts:
            return counted(batch, event) or _beginning(summed(event.parts, event))
        case Reading() if event.what == batch.recipe.base and batch.start is None:
            return _beginning(event)
        case Reading(what="juice"):
            return _measured(event, expected_juice(batch, event.dimension), _asks(batch, "juice"))
        case Reading(what="yield"):
            return _yield(batch, event)
        case Reading() if STUFF[event.what].is_put_in and event.what not in PRESERVATIVES:
            return _put_in(batch, event)
    return ()


def _beginning(event: Reading) -> Lines:
    """Asked where a batch of that size is no small one; nothing else tells a slip at the start."""
    if event.base <= LARGEST_BASE:
        return ()
    facts: dict[str, Fact] = {
        "said": Quantity(value=event.value, unit=event.unit, exact=True),
        "stuff": stuff_words(event.what),
    }
    return (Line(id="large_batch", rank="question", facts=facts),)


def _asks(batch: Batch, what: str) -> bool:
    return isinstance(batch.stage, Measure) and batch.stage.reading == what


def _measured(event: Reading, expected: Expected | None, asked: bool) -> Lines:
    if not asked or expected is None or not expected.far_off(event.base):
        return ()
    return (off_plan_line(event, expected),)


def _put_in(batch: Batch, event: Reading) -> Lines:
    """At its stage held against the plan both ways; at any other time against twice the plan.

    What nobody planned, and acid for a batch that is not sour enough, by the size of the batch.
    """
    if event.dimension == "dose" or batch.start is None:
        return ()
    event = named(batch, event)
    own = batch.recipe.ingredients.get(event.of)
    if event.what == OWN and (own is None or not can_be_weighed(event, own)):
        return ()
    added = added_as(batch, event)
    expected = expected_amount(batch, added.name)
    here = isinstance(batch.stage, Add) and batch.stage.amount == added.name
    if expected is None or sours(batch, added.name) or (batch.stopped_by and not here):
        return _for_its_size(batch, event, added)
    most = MOST_OF_PLAN * max(expected.likely, expected.high)
    beyond = batch.total(added.name) + added.amount > most
    off = expected.far_off(added.amount) if here else beyond
    return (off_plan_line(event, expected, words_of(batch, event)),) if off else ()


def _for_its_size(batch: Batch, event: Reading, added: Added) -> Lines:
    most = most_of(batch, stuff_of(added.name))
    if most is None or stuff_total(batch, stuff_of(added.name)) + added.amount <= most:
        return ()
    facts: dict[str, Fact] = {
        "said": Quantity(value=event.value, unit=event.unit, exact=True),
        "stuff": words_of(batch, event),
        "most": Quantity(value=most, unit=added.unit),
    }
    return (Line(id="too_much_for_batch", rank="question", facts=facts),)


def _yield(batch: Batch, event: Reading) -> Lines:
    """What is left of a reduction is any weight up to what was put in; syrup is as reckoned."""
    if isinstance(batch.stage, Reduce):
        start = start_mass(batch)
        target = start * batch.stage.to_share
        return _measured(event, Expected(target, target, MORE_LEFT * start, "g"), asked=True)
    return _measured(event, expected_syrup(batch, event.dimension), asked=True)
