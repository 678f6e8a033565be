""" "Done", yes and no, choices, notes and the end: what is neither number nor question."""

from dataclasses import replace
from datetime import datetime
from typing import Literal

from assistant.calc.fruits import fruit as fruit_figures
from assistant.cook.basket import called
from assistant.cook.batch import Batch
from assistant.cook.changes import Step, changed, onward, stay
from assistant.cook.jars import BOILED, SEALED, take_boiled, take_sealed
from assistant.cook.kinds import Option, Stage
from assistant.cook.kinds.base import AskAgain, GoOn, Warned
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.cook.stops import stop_line
from assistant.facts.events import Choose, No, Note, Onward, Stop, Yes


def take_onward(batch: Batch, event: Onward) -> Step:
    """ "Done": on to the next stage, or a word about what the stage still waits for."""
    stage = batch.stage
    if stage is None:
        return stay(batch, *announce(batch, event.at))
    if batch.stopped_by:
        return stay(batch, stop_line(batch, "wait"))
    match stage.done(batch, event.at):
        case GoOn(after):
            return onward(batch, after, event.at)
        case Warned(skips=skips) if batch.insisted == stage.id:
            after = batch.with_skipped(stage.id) if skips else batch
            return onward(batch, after, event.at)
        case Warned(line):
            return _warn(batch, stage, line)
        case AskAgain():
            return stay(batch, *announce(batch, event.at))


def _warn(batch: Batch, stage: Stage, line: Line) -> Step:
    return replace(batch, insisted=stage.id), Reply(lines=(line,))


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


_OF_THE_JARS = {BOILED: take_boiled, SEALED: take_sealed}


def take_choice(batch: Batch, event: Choose) -> Step:
    """Which fruit it is, or an option with or without."""
    if event.option == "fruit":
        return _choose_fruit(batch, event)
    if event.option in _OF_THE_JARS:
        return _OF_THE_JARS[event.option](batch, event)
    if event.option == "ph_by":
        return _read_with(batch, event)
    stage = batch.stage
    value = event.value in ("yes", "with")
    if isinstance(stage, Option) and stage.option == event.option:
        return onward(batch, batch.with_choice(event.option, value), event.at)
    offered = {s.option for s in batch.recipe.stages if isinstance(s, Option)}
    if event.option not in offered:
        return stay(batch, Line(id="not_in_recipe", rank="answer"))
    return stay(batch, Line(id="ask_later", rank="answer"), *announce(batch, event.at))


def _read_with(batch: Batch, event: Choose) -> Step:
    """What the pH was read with: a meter set in buffer counts as read, strips with their doubt."""
    read = batch.last("ph")
    if read is None:
        return stay(batch, Line(id="not_asked_yet", rank="answer", facts={"what": "the pH"}))
    by: Literal["meter", "strips"] = "meter" if event.value == "meter" else "strips"
    after = replace(batch, ph_by=by)
    return changed(batch, after), Reply(lines=(Line(id=f"ph_by_{by}", rank="caution"),))


def _choose_fruit(batch: Batch, event: Choose) -> Step:
    figures = fruit_figures(event.value)
    low_acid = figures is not None and figures.acidity_class == "low-acid"
    if low_acid and event.value not in batch.recipe.fruits:
        return _low_acid_fruit(batch, event)
    lasting = replace(batch.lasting, refused=None)
    after = replace(batch, fruit=event.value, lasting=lasting)
    lines: tuple[Line, ...] = (
        Line(id="fruit_noted", rank="read_back", facts={"fruit": event.value}),
    )
    if event.value not in batch.recipe.fruits:
        lines = (*lines, Line(id="fruit_not_in_recipe", rank="caution"))
    return changed(batch, after), Reply(lines=(*lines, *announce(after, event.at)))


def _low_acid_fruit(batch: Batch, event: Choose) -> Step:
    """Refused until another is named; one in the pan already makes the batch low in acid."""
    facts = {"fruit": called(event.value)}
    if batch.start is None:
        refused = replace(batch, lasting=replace(batch.lasting, refused=event.value))
        line = Line(id="fruit_low_acid", rank="limit", facts=facts)
        return refused, Reply(lines=(line,), stopped=batch.stopped)
    line = Line(id="fruit_low_acid_late", rank="limit", facts=facts)
    return changed(batch, replace(batch, fruit=event.value)), Reply(lines=(line,))


def take_note(batch: Batch, event: Note) -> Step:
    """A remark kept with the batch."""
    after = replace(batch, notes=(*batch.notes, event.text))
    return changed(batch, after), Reply(lines=(Line(id="noted", rank="read_back"),))


def take_stop(batch: Batch, _event: Stop) -> Step:
    """The session ends; the batch waits."""
    return stay(batch, Line(id="session_ends", rank="answer"))
