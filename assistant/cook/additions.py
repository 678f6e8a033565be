"""Additions the cook names with an amount, at their stage or at any other time."""

from typing import Literal

from assistant.cook.amounts import amount
from assistant.cook.batch import Added, Batch
from assistant.cook.changes import Step, changed, onward, stay
from assistant.cook.judging import read_back, whose_measure
from assistant.cook.kinds import Add
from assistant.cook.own import named
from assistant.cook.preservatives import take_preservative
from assistant.cook.reply import Line, Reply
from assistant.cook.spooned import amount_in, can_be_weighed, spoon_caution
from assistant.cook.stages import announce
from assistant.facts.events import Reading
from assistant.facts.stuff import OWN, PRESERVATIVES, STUFF, read_as, stuff_of, stuff_words

FAR_OFF = 0.25
"""An amount this share away from the plan is said out loud, in case it was a slip."""
_NAMES = {"sugar": "main_sugar", "water": "hot_water"}
"""What is put down under another name than its own where a recipe plans none of it."""


def take_ingredient(batch: Batch, event: Reading) -> Step:
    """An amount that went in: it counts as said, and far from the plan it is remarked upon.

    What the recipe has no place for counts too, since it is in the pan all the same.
    """
    event = named(batch, event)
    if batch.start is None and _has_place(batch, event):
        first = {"stuff": stuff_words(batch.recipe.base)}
        return stay(batch, Line(id="base_first", rank="answer", facts=first))
    if batch.start is None or (event.what == OWN and event.of not in batch.recipe.ingredients):
        return stay(batch, Line(id="not_in_recipe", rank="answer"), *announce(batch, event.at))
    if event.what in PRESERVATIVES:
        return take_preservative(batch, event, _put_in)
    if event.dimension == "dose":
        return stay(batch, Line(id="dose_by_weight", rank="question"))
    own = batch.recipe.ingredients.get(event.of)
    if own is not None and not can_be_weighed(event, own):
        return stay(batch, Line(id="weigh_own", rank="question", facts={"stuff": own.words}))
    name = _amount_name(batch, event)
    added = _added(batch, name, event)
    lines = (*spoon_caution(event), *whose_measure(event))
    if sours(batch, name):
        return _soured(batch, added, event, lines)
    return _put_in(batch, added, event, (*lines, *_off_plan(batch, name, added)))


def _has_place(batch: Batch, event: Reading) -> bool:
    """Whether the recipe takes some of it, at whatever stage."""
    if event.what == OWN:
        return event.of in batch.recipe.ingredients
    return any(read_as(name) == event.what for name in batch.recipe.added)


def sours(batch: Batch, name: str) -> bool:
    """Whether it answers a pH that stops the batch: the recipe's plan no longer counts then."""
    return batch.stopped_by is not None and stuff_of(name) == "citric_acid"


def _soured(batch: Batch, added: Added, event: Reading, lines: tuple[Line, ...]) -> Step:
    """Nothing else is asked for until the pH is read again."""
    after, reply = _put_in(batch, added, event, ())
    said = (read_back(event), *lines, Line(id="measure_again", rank="do"))
    return after, reply.model_copy(update={"lines": said, "stopped": batch.stopped})


def added_as(batch: Batch, event: Reading) -> Added:
    """What a cook's number for an ingredient would be put down as."""
    event = named(batch, event)
    return _added(batch, _amount_name(batch, event), event)


def _amount_name(batch: Batch, event: Reading) -> str:
    """The amount meant: the one this stage asks for, else the latest the batch has reached."""
    stage, what = batch.stage, event.what
    if what == OWN:
        return event.of
    if isinstance(stage, Add) and read_as(stage.amount) == what:
        return stage.amount
    names = [n for n in batch.recipe.added if read_as(n) == what]
    added = [n for n in names if batch.addition(n) is not None]
    return added[-1] if added else next(iter(names), _NAMES.get(what, what))


def _added(batch: Batch, name: str, event: Reading) -> Added:
    planned = amount(batch, name)
    own = batch.recipe.ingredients.get(name)
    poured = own is None and STUFF[event.what].density
    wanted = planned.unit if planned else "ml" if poured else "g"
    unit: Literal["g", "ml"] = "ml" if wanted == "ml" else "g"
    return Added(name, amount_in(event, unit, own).likely, unit, event.at, measured=True)


def _put_in(batch: Batch, added: Added, event: Reading, lines: tuple[Line, ...]) -> Step:
    after = batch.with_added(added)
    stage = batch.stage
    if isinstance(stage, Add) and stage.amount == added.name:
        return onward(batch, after, event.at, read_back(event, _own_words(batch, event)), *lines)
    noted = Line(id="added_too", rank="answer")
    if added.name not in batch.recipe.added and added.name not in PRESERVATIVES:
        noted = Line(id="added_off_recipe", rank="answer")
    return changed(batch, after), Reply(
        lines=(read_back(event, _own_words(batch, event)), *lines, noted)
    )


def _off_plan(batch: Batch, name: str, added: Added) -> tuple[Line, ...]:
    planned = amount(batch, name)
    stage = batch.stage
    if planned is None or not (isinstance(stage, Add) and stage.amount == name):
        return ()
    if abs(added.amount - planned.value) <= FAR_OFF * planned.value:
        return ()
    return (Line(id="off_plan", rank="caution", facts={"planned": planned}),)


def _own_words(batch: Batch, event: Reading) -> str:
    """The name of an ingredient of the recipe's own, which its number alone does not tell."""
    return batch.recipe.words(event.of) if event.of else ""
