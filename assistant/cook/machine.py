"""The recipe machine: a pure fold over events. Same events, same state, same words."""

from collections.abc import Iterable
from dataclasses import replace

from pydantic import ValidationError

from assistant.base.errors import BadRecipe, OutOfRange
from assistant.cook.asking import answered, asked_first, without
from assistant.cook.batch import Batch
from assistant.cook.bottling import take_bottles
from assistant.cook.changes import Handler, Step, stay
from assistant.cook.corrections import corrected, take_correction, take_undo
from assistant.cook.ordering import take_later, take_pause, take_repeat
from assistant.cook.questions import remember, take_question, take_say_again
from assistant.cook.readings import take_reading
from assistant.cook.recipe import Recipe
from assistant.cook.reply import Line, Reply
from assistant.cook.settling import settled
from assistant.cook.spoiling import held_up
from assistant.cook.stages import announce
from assistant.cook.steps import (
    take_choice,
    take_no,
    take_note,
    take_onward,
    take_stop,
    take_yes,
)
from assistant.cook.storing import (
    take_discard,
    take_moved,
    take_opened,
    take_recalled,
    take_sign,
    take_used,
)
from assistant.cook.timers import take_timer, take_timer_stop
from assistant.facts.events import AnyEvent, Begin, Correct, Reading

_HANDLERS: dict[str, Handler] = {
    "reading": take_reading,
    "correct": take_correction,
    "onward": take_onward,
    "later": take_later,
    "repeat": take_repeat,
    "pause": take_pause,
    "say_again": take_say_again,
    "undo": take_undo,
    "ask": take_question,
    "yes": take_yes,
    "no": take_no,
    "timer_set": take_timer,
    "timer_stop": take_timer_stop,
    "choose": take_choice,
    "bottle": take_bottles,
    "discard": take_discard,
    "used": take_used,
    "opened": take_opened,
    "moved": take_moved,
    "sign": take_sign,
    "recalled": take_recalled,
    "note": take_note,
    "manner": lambda batch, _event: stay(batch),
    "stop": take_stop,
}
_AFTER_THE_END = {"ask", "say_again", "undo", "stop", "note", "discard", "sign", "recalled"}


def begin(event: Begin) -> Step:
    """A new batch, with the sentence that asks for its first stage.

    BadRecipe for a recipe that this version does not understand.
    """
    try:
        recipe = Recipe.model_validate(event.recipe)
    except ValidationError as error:
        raise BadRecipe(
            f"batch {event.batch} was begun with a recipe that this version can't read "
            f"({error.error_count()} faults); the version that made it still can"
        ) from error
    batch = Batch(event.batch, recipe, begun_at=event.at, entered_at=event.at, rules=event.rules)
    reply = Reply(lines=(*announce(batch, event.at, arriving=True), *_allergens(recipe)))
    return remember(batch, reply), reply


def _allergens(recipe: Recipe) -> tuple[Line, ...]:
    """Said once, when there is still time to make something else."""
    if not recipe.allergens:
        return ()
    facts = {"allergens": " and ".join(recipe.allergens)}
    return (Line(id="allergens", rank="caution", facts=facts),)


def step(batch: Batch, event: AnyEvent) -> Step:
    """The batch after one event, and what is to be said. Pure: no clock, no input or output.

    An event that does not fit now leaves the batch as it was and says so.
    """
    if isinstance(event, Begin):
        return stay(batch, Line(id="already_begun", rank="answer"))
    if batch.ended == "discarded" and event.kind not in _AFTER_THE_END:
        return stay(batch, Line(id="was_discarded", rank="answer"))
    held = held_up(batch, event)
    if held is not None:
        return remember(*held), held[1]
    if batch.paused and event.kind != "pause":
        batch = replace(batch, paused=False)
        if event.kind == "onward":
            return stay(batch, *announce(batch, event.at))
    answer = answered(batch, event, _handled)
    if answer is not None:
        return remember(*answer), answer[1]
    batch, passed_over = without(batch, event)
    after, reply = asked_first(batch, event, *_handled(batch, event))
    reply = reply.model_copy(update={"lines": (*passed_over, *reply.lines)})
    after = _with_last_reading(batch, after, event)
    if event.kind == "say_again":
        return after, reply
    return remember(after, reply), reply


def _handled(batch: Batch, event: AnyEvent) -> Step:
    """What the event makes of the batch; a number that the core can't reckon with makes nothing."""
    try:
        after, reply = _HANDLERS[event.kind](batch, event)
    except OutOfRange:
        return stay(batch, Line(id="beyond_reckoning", rank="question"))
    return settled(batch, after, reply, event.at)


def _with_last_reading(batch: Batch, after: Batch, event: AnyEvent) -> Batch:
    """Only a change can be corrected; a question in between does not hide the reading."""
    if isinstance(event, Reading) and after.before is batch:
        return replace(after, last_reading=event)
    if isinstance(event, Correct) and batch.last_reading and after.before is batch.before:
        return replace(after, last_reading=corrected(batch.last_reading, event))
    if after.before is batch:
        return replace(after, last_reading=None)
    return after


def fold(events: Iterable[AnyEvent]) -> Step:
    """The batch that a journal makes, with the last thing said.

    The first event must be Begin; ValueError for an empty journal or another start.
    """
    stream = iter(events)
    first = next(stream, None)
    if not isinstance(first, Begin):
        raise ValueError("a journal starts with Begin")
    batch, reply = begin(first)
    for event in stream:
        batch, reply = step(batch, event)
    return batch, reply
