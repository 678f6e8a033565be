"""Answers to questions. A question changes nothing."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from assistant.cook.amounts import quantity
from assistant.cook.batch import Batch
from assistant.cook.brix import to_target
from assistant.cook.cards import card_lines
from assistant.cook.changes import Step, advance, stay
from assistant.cook.converting import converted
from assistant.cook.due import due
from assistant.cook.filling import forecast
from assistant.cook.hypothetical import what_if
from assistant.cook.keep_answers import keep_lines
from assistant.cook.kinds import Add
from assistant.cook.own_answers import acid_due, bottles, fit_to_drink, how_hot, went_in
from assistant.cook.permission import may_i
from assistant.cook.reckoned import reckon
from assistant.cook.reckoned.in_the_glass import strong
from assistant.cook.reply import AT_MOST, Fact, Line, Quantity, Rank, Reply
from assistant.cook.stages import announce, facts
from assistant.cook.stock import juice, syrup
from assistant.cook.storing import larder_lines, sort_lines
from assistant.facts.events import Ask, SayAgain
from assistant.facts.stuff import read_as
from assistant.limits import all_limits, limit_named

Answer = tuple[Line, ...]
SO_FAR = "_so_far"
"""Behind a matter: how much of it went in, not how much is to go in."""


def take_question(batch: Batch, event: Ask) -> Step:
    """The answer to a question, from the batch as it stands."""
    if event.topic == "larder" and event.vessel is not None:
        return stay(batch, *sort_lines(batch, event))
    if event.topic == "bottles" and batch.bottled is None and (event.vessel or event.lots):
        return stay(batch, *forecast(batch, event))
    if event.topic in _OF_AN_AMOUNT:
        return stay(batch, *_OF_AN_AMOUNT[event.topic](batch, event))
    return stay(batch, *_ANSWERS[event.topic](batch, event.about, event.at))


def take_say_again(batch: Batch, event: SayAgain) -> Step:
    """The last reply once more, word for word."""
    reply = batch.last_reply
    return batch, reply if reply.lines else Reply(lines=announce(batch, event.at))


def _where(batch: Batch, _about: str | None, at: datetime) -> Answer:
    stage = batch.stage
    if stage is None:
        return announce(batch, at)
    facts_ = {"number": batch.stage_index + 1, "of": len(batch.stages)}
    return (Line(id="where", rank="answer", facts=facts_), *announce(batch, at))


def _next(batch: Batch, about: str | None, at: datetime) -> Answer:
    """What is asked now, or about "after" what will be asked after that."""
    return announce(advance(batch, at) if about == "after" and batch.stage else batch, at)


def _why(batch: Batch, _about: str | None, at: datetime) -> Answer:
    stage = batch.stage
    if stage is None:
        return announce(batch, at)
    said = facts(batch, stage.why, stage, at)
    return (Line(id="why", rank="answer", text=stage.why, facts=said),)


def _how_much(batch: Batch, about: str | None, at: datetime) -> Answer:
    """How much of something goes in, or went in."""
    if about == "so_far":
        return _went_in(batch)
    if about and about.endswith(SO_FAR):
        return went_in(batch, about.removesuffix(SO_FAR))
    if batch.start is None:
        return (Line(id="fruit_first", rank="answer"), *announce(batch, at))
    needed = to_target(batch) if about in ("sugar", "water", "more", None) else ()
    if needed:
        return needed
    if about in ("juice", "water", "fruit", "syrup"):
        return _stock_answer(batch, about)
    dose = acid_due(batch, about)
    if dose:
        return dose
    names = _named(batch, about)
    lines = tuple(line for name in names if (line := _amount_line(batch, name)))
    return lines or (Line(id="not_in_recipe", rank="answer"),)


def _named(batch: Batch, about: str | None) -> list[str]:
    """The amounts a word means: those of the stage when no word was said."""
    adding = batch.recipe.added
    if about is None:
        stage = batch.stage
        return [stage.amount] if isinstance(stage, Add) else ["main_sugar"]
    word = about.replace(" ", "_")
    return [n for n in adding if word in (n, read_as(n)) or word in n or _is_own(batch, n, about)]


def _is_own(batch: Batch, name: str, about: str) -> bool:
    own = batch.recipe.ingredients.get(name)
    return own is not None and about in own.names(name)


def _amount_line(batch: Batch, name: str) -> Line | None:
    planned = due(batch, name)
    if planned is None:
        return None
    words = batch.recipe.words(name)
    if batch.addition(name) is not None:
        put_in = Quantity(value=batch.total(name), unit=planned.unit)
        return Line(id="went_in", rank="answer", facts={"amount": put_in, "stuff": words})
    return Line(id="how_much", rank="answer", facts={"amount": planned, "stuff": words})


def _went_in(batch: Batch) -> Answer:
    """All that has gone in, the latest first."""
    names = dict.fromkeys(a.name for a in reversed(batch.added))
    lines = tuple(line for name in names if (line := _amount_line(batch, name)))
    return lines or (Line(id="nothing_went_in", rank="answer"),)


def _stock_answer(batch: Batch, about: str) -> Answer:
    if about == "water":
        water = _amount_line(batch, "hot_water")
        return (water,) if water else (Line(id="not_in_recipe", rank="answer"),)
    if about == "fruit":
        fruit = batch.start
        value, unit = (fruit.reading.value, fruit.reading.unit) if fruit else (0.0, "g")
        had = Quantity(value=value, unit=unit, exact=True)
        return (Line(id="how_much_fruit", rank="answer", facts={"amount": had}),)
    if about == "syrup":
        return _yield(batch, None, batch.begun_at)
    stock = juice(batch)
    volume = quantity(stock.volume_ml, "ml") if stock else "some"
    return (Line(id="how_much_juice", rank="answer", facts={"amount": volume}),)


def _yield(batch: Batch, _about: str | None, _at: datetime) -> Answer:
    stock = syrup(batch)
    if stock is None:
        return (Line(id="fruit_first", rank="answer"),)
    said = {"syrup": quantity(stock.volume_ml, "ml"), "brix": quantity(stock.brix, "Brix")}
    return (Line(id="yield", rank="answer", facts=said),)


def _keep(batch: Batch, about: str | None, at: datetime) -> Answer:
    if about in ("freezer", "frozen"):
        return keep_lines(batch, at, "freezer")
    if about in ("cupboard", "shelf", "pantry"):
        return keep_lines(batch, at, "cupboard")
    if about == "fridge":
        return keep_lines(batch, at, "fridge")
    return keep_lines(batch, at, opened=about == "opened")


def _how_long(batch: Batch, about: str | None, at: datetime) -> Answer:
    """How long a running hold or rest still takes; else how long it keeps."""
    left = batch.stage.left(batch, at) if batch.stage else None
    if left is not None:
        return (left,)
    return _timers(batch, at) or _keep(batch, about, at)


def _timers(batch: Batch, at: datetime) -> Answer:
    return tuple(
        Line(
            id="timer_left",
            rank="answer",
            facts={"name": t.name, "left": Quantity(value=round(left), unit="s")},
        )
        for t in batch.timers
        if (left := t.seconds - (at - t.at).total_seconds()) > 0
    )


def _limit(batch: Batch, about: str | None, at: datetime) -> Answer:
    """The bounds that matter, with who says so."""
    if about == "source" and batch.stopped_by is not None:
        return _who_says(batch.stopped_by)
    if about == "safe":
        return (*fit_to_drink(batch, at), *_bounds("ph"))
    if about == "hot" and (wanted := how_hot(batch)):
        return wanted
    about = None if about == "source" else about
    wanted_ = "temperature" if about in ("temperature", "heat", "hot") else about or "ph"
    return _bounds(wanted_) or (Line(id="no_such_limit", rank="answer"), *announce(batch, at))


def _bounds(quantity_: str) -> Answer:
    return tuple(
        Line(
            id="bound_stop" if limit.effect == "stop" else "bound_caution",
            rank="answer",
            facts={
                "bound": Quantity(value=limit.bound, unit=limit.unit, exact=True),
                "source": limit.source.split(":")[0],
            },
        )
        for limit in all_limits()
        if limit.quantity == quantity_
    )


def _who_says(limit_id: str) -> Answer:
    """The source of the limit that holds the batch."""
    limit = limit_named(limit_id)
    facts_: dict[str, Fact] = {"source": limit.source.split(":")[0]} if limit else {}
    return (Line(id="limit_source", rank="answer", facts=facts_),) if limit else ()


def _help(_batch: Batch, _about: str | None, _at: datetime) -> Answer:
    return (Line(id="help", rank="answer"), Line(id="help_more", rank="answer"))


def _more(batch: Batch, _about: str | None, _at: datetime) -> Answer:
    """What was left out of the last reply, two sentences at a time."""
    left = batch.last_reply.left()
    if not left:
        return (Line(id="no_more", rank="answer"),)
    told = [_as(line, "answer") for line in left[:AT_MOST]]
    return (*told, *(_as(line, "detail") for line in left[AT_MOST:]))


def _as(line: Line, rank: Rank) -> Line:
    return line.model_copy(update={"rank": rank})


def remember(batch: Batch, reply: Reply) -> Batch:
    """The batch with the reply kept, so that it can be said again or said in full."""
    return replace(batch, last_reply=reply)


_OF_AN_AMOUNT: dict[str, Callable[[Batch, Ask], Answer]] = {
    "what_if": what_if,
    "convert": lambda _batch, event: converted(event),
    "strong": strong,
    "reckon": reckon,
}
_ANSWERS: dict[str, Callable[[Batch, str | None, datetime], Answer]] = {
    "keep": _keep,
    "where": _where,
    "next": _next,
    "why": _why,
    "how_much": _how_much,
    "limit": _limit,
    "say_what": _help,
    "help": _help,
    "more": _more,
    "how_long": _how_long,
    "bottles": lambda batch, _about, _at: bottles(batch),
    "yield": _yield,
    "may_i": may_i,
    "larder": larder_lines,
    "card": card_lines,
}
