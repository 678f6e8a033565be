"""What the kitchen page shows, worked out from a batch and the time that is passed in. Pure."""

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, timedelta

from assistant.cook import Batch
from assistant.cook.amounts import amount
from assistant.cook.keep_answers import sign_lines
from assistant.cook.kinds import Add, Stage
from assistant.cook.reply import Line, Quantity
from assistant.cook.stages import announce, facts
from assistant.say import by_eye as line_by_eye
from assistant.say.amounts import by_eye
from assistant.screen.big import big, stopping
from assistant.screen.curve import curve, hold_so_far
from assistant.screen.facts import (
    AmountRow,
    Pan,
    Running,
    Said,
    Slip,
    StageFacts,
    Standing,
    Tap,
    View,
)
from assistant.screen.panel import panel, place


def view(
    batch: Batch,
    at: datetime,
    revision: int = 0,
    said: Sequence[Said] = (),
    examples: Sequence[str] = (),
    asking: str = "",
    taps: Sequence[Tap] = (),
    kitchen: Sequence[Pan] = (),
) -> View:
    """The page's facts.

    at : now, by the passed-in clock
    revision : how many events have made the batch
    said : the last things heard; examples : what can be said now
    asking, taps : the question that is open and its answers
    kitchen : all batches that are under way
    """
    return View(
        batch=batch.id,
        title=batch.recipe.title,
        fruit=batch.fruit or "",
        revision=revision,
        now=at,
        begun=batch.begun_at,
        stage=_stage(batch, at),
        ended=batch.ended,
        closing=_closing(batch, at),
        panel=panel(batch, at, asking, taps),
        kitchen=tuple(kitchen),
        big=big(batch, at),
        stop=_stop(batch),
        running=running(batch, at),
        hold=hold_so_far(batch),
        curve=curve(batch),
        amounts=_amounts(batch),
        choices=_choices(batch),
        examples=tuple(examples),
        slip=_slip(batch),
        can_undo=batch.before is not None,
        said=tuple(said),
    )


def pans(
    batches: Sequence[Batch],
    names: Mapping[str, str],
    at: datetime,
    asking: Collection[str] = (),
) -> tuple[Pan, ...]:
    """The batches of the kitchen for the strip along the top, those that are under way.

    names : what each is called, by its id; asking : those about which a question is open
    """
    return tuple(
        Pan(
            id=batch.id,
            name=names[batch.id],
            state=panel(batch, at, "?" if batch.id in asking else "").state,
            place=place(batch),
            running=running(batch, at),
        )
        for batch in batches
        if batch.stage is not None
    )


def title(stage: Stage) -> str:
    """A stage's name as a heading.

    >>> from assistant.cook.kinds import Do
    >>> title(Do(id="make_up", kind="do", say="", why=""))
    'Make up'
    """
    if stage.id == "ph":
        return "pH"
    return stage.id.replace("_", " ").replace("-", " ").capitalize()


def _stage(batch: Batch, at: datetime) -> StageFacts | None:
    stage = batch.stage
    if stage is None:
        return None
    said = announce(batch, at)[0]
    why = Line(id="why", rank="answer", text=stage.why, facts=facts(batch, stage.why, stage, at))
    return StageFacts(
        id=stage.id,
        kind=stage.kind,
        title=title(stage),
        number=batch.stage_index + 1,
        of=len(batch.recipe.stages),
        say=line_by_eye(said),
        why=line_by_eye(why),
        caution=stage.caution or "",
    )


def _closing(batch: Batch, at: datetime) -> tuple[str, ...]:
    """What is said of a batch that has ended."""
    if batch.stage is not None:
        return ()
    return tuple(line_by_eye(line) for line in announce(batch, at))


def _stop(batch: Batch) -> str:
    """The limit's own words, with the reading that tripped it."""
    limit = stopping(batch)
    last = batch.last(limit.quantity) if limit else None
    if limit is None or last is None:
        lines = sign_lines(batch)[:1] if batch.spoiling else ()
        held = "A limit holds this batch: do not bottle it." if batch.stopped_by else ""
        return " ".join(line_by_eye(line) for line in lines) or held
    bound = Quantity(value=limit.bound, unit=last.reading.unit, exact=True)
    value = Quantity(value=last.reading.value, unit=last.reading.unit, exact=True)
    said = {"value": value, "bound": bound}
    return line_by_eye(Line(id="limit", rank="limit", text=limit.words, facts=said))


def running(batch: Batch, at: datetime) -> tuple[Running, ...]:
    """Timers, a rest and the next look at the thermometer, the first to end first."""
    found = [
        Running(name=t.name, kind="timer", began=t.at, ends=t.at + timedelta(seconds=t.seconds))
        for t in batch.timers
    ]
    due = batch.stage.due(batch, at) if batch.stage else None
    if batch.stage and due is not None:
        name = title(batch.stage) if due.kind == "rest" else "Next reading"
        found.append(Running(name=name, kind=due.kind, began=min(due.began, at), ends=due.ends))
    return tuple(sorted(found, key=lambda each: each.ends))


def _amounts(batch: Batch) -> tuple[AmountRow, ...]:
    """What goes in, in the order of the stages, without options that were declined."""
    rows: dict[str, AmountRow] = {}
    for stage in batch.recipe.stages:
        if isinstance(stage, Add) and _wanted(batch, stage):
            rows.setdefault(stage.amount, _row(batch, stage.amount))
    return tuple(rows.values())


def _wanted(batch: Batch, stage: Add) -> bool:
    """An option nobody has been asked about yet is no plan."""
    return stage.when is None or batch.choices.get(stage.when, False)


def _row(batch: Batch, name: str) -> AmountRow:
    planned = amount(batch, name)
    unit = planned.unit if planned else "g"
    went_in = batch.total(name)
    stage = batch.stage
    standing: Standing = "in" if batch.addition(name) else "later"
    if isinstance(stage, Add) and stage.amount == name and standing == "later":
        standing = "now"
    return AmountRow(
        name=batch.recipe.words(name),
        planned=by_eye(planned) if planned else "",
        put_in=by_eye(Quantity(value=went_in, unit=unit)) if batch.addition(name) else "",
        standing=standing,
    )


def _choices(batch: Batch) -> tuple[str, ...]:
    """Answers that may be given with a tap; never a number."""
    if batch.spoiling:
        return () if batch.sign_sure else ("yes", "no")
    if batch.held:
        return ("yes", "no")
    return batch.stage.taps if batch.stage else ()


def _slip(batch: Batch) -> Slip | None:
    reading = batch.last_reading
    if reading is None or batch.before is None:
        return None
    said = Quantity(value=reading.value, unit=reading.unit, exact=True)
    words = by_eye(said)
    name = "" if reading.unit in ("pH", "count") else words.partition(" ")[2]
    return Slip(words=words, value=reading.value, unit=reading.unit, unit_words=name)
