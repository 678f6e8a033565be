"""How long this batch keeps: the core's rule, fed with what was measured and done."""

from dataclasses import replace
from datetime import date, datetime, timedelta

from assistant.calc.fruits import fruit as fruit_figures
from assistant.calc.keeping import KeepBy, keep_by
from assistant.cook.batch import Batch
from assistant.cook.holding import held
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import syrup
from assistant.events import Place, SignOf


def keeping(batch: Batch, place: Place = "fridge", opened: bool = False) -> KeepBy:
    """The keep-by of a batch from its latest pH, its sugar, its hold and its sorbate."""
    ph = batch.last("ph")
    sweetened = batch.addition("main_sugar") is not None
    stock = syrup(batch) if sweetened else None
    figures = fruit_figures(batch.fruit) if batch.fruit else None
    low_acid = batch.recipe.acidity == "low-acid" or (
        figures is not None and figures.acidity_class == "low-acid"
    )
    return keep_by(
        ph.base if ph else None,
        stock.brix.low if stock else None,
        heated=held(batch).complete,
        sorbate_g_l=sorbate_in(batch),
        place=place,
        opened=opened,
        low_acid=low_acid,
    )


def sorbate_in(batch: Batch) -> float:
    """Potassium sorbate in the syrup, reckoned on the larger volume it may have. [g/l]"""
    stock = syrup(batch)
    if batch.addition("sorbate") is None or stock is None:
        return 0.0
    return min(batch.total("sorbate") / (stock.volume_ml.high / 1000), 10.0)


def closed_until(batch: Batch, at: datetime) -> date | None:
    """The last day for a closed bottle, counted from filling; None when it may not be kept.

    at : counts as the filling for a batch that has none yet

    Days in the fridge are counted, days in the freezer are not, and the freezer has its own end.
    """
    filled = _filled(batch, at)
    return _runs_out(batch, filled, filled, keeping(batch).days)


def opened_until(batch: Batch, opened_at: datetime) -> date | None:
    """The last day for a bottle opened then; never later than for a closed one."""
    closed = closed_until(batch, opened_at)
    days = keeping(batch, opened=True).days
    opened = _runs_out(batch, opened_at.date(), _filled(batch, opened_at), days)
    return None if closed is None or opened is None else min(closed, opened)


def _filled(batch: Batch, at: datetime) -> date:
    return (batch.bottled.at if batch.bottled else at).date()


def _runs_out(batch: Batch, start: date, filled: date, days: int | None) -> date | None:
    """When the days for the fridge, counted from the start, are used up.

    A day in the fridge that was begun counts whole. What was over its date when it was frozen
    stays so, and freezing lengthens nothing past the freezer's own days, counted from filling.
    """
    if days is None or batch.stopped_by:
        return None
    frozen_until = filled + timedelta(days=keeping(batch, "freezer").days or 0)
    was_frozen = False
    for place, since, until in _stays(batch, filled):
        if until is not None and until < start:
            continue
        was_frozen = was_frozen or place == "freezer"
        begun = max(since, start)
        if place == "freezer":
            if until is None:
                return frozen_until
            continue
        if until is None or max(1, (until - begun).days) > days:
            end = begun + timedelta(days=days)
            return min(end, frozen_until) if was_frozen else end
        days -= max(1, (until - begun).days)
    return None


def _stays(batch: Batch, filled: date) -> list[tuple[Place, date, date | None]]:
    """Where the bottles were, from when to when; the last has no end."""
    moves = batch.stored.moves
    places: list[Place] = ["fridge", *(move.place for move in moves)]
    since = [filled, *(move.at.date() for move in moves)]
    ends: list[date | None] = [*since[1:], None]
    return list(zip(places, since, ends, strict=True))


def in_words(day: date) -> str:
    """A day as it is said.

    >>> in_words(date(2026, 8, 8))
    '8 August'
    """
    return f"{day.day} {day:%B}"


def keep_by_words(batch: Batch, at: datetime) -> str:
    """The keep-by date in words; for a batch that must not be kept, that."""
    day = None if batch.barred else closed_until(batch, at)
    return "do not keep" if day is None else in_words(day)


def barred_lines(batch: Batch) -> tuple[Line, ...]:
    """Why no bottle of the batch may be used, () when nothing forbids it."""
    match batch.barred:
        case "stopped":
            return (Line(id="keep_stopped", rank="limit"),)
        case "signed":
            sign = SIGN_WORDS[batch.stored.signs[0].what]
            return (Line(id="keep_signed", rank="limit", facts={"sign": sign}),)
        case "recalled":
            return (Line(id="keep_recalled", rank="limit"),)
    return ()


def past_lines(day: date | None, at: datetime) -> tuple[Line, ...]:
    """After the last day: throw it away. () up to that day."""
    if day is None or at.date() <= day:
        return ()
    return (Line(id="past_keep_by", rank="limit", facts={"date": in_words(day)}),)


def ending_lines(batch: Batch, at: datetime) -> tuple[Line, ...]:
    """What is said of a batch that has no stage left."""
    if batch.ended == "discarded":
        return (Line(id="was_discarded", rank="answer"),)
    if batch.bottled and not batch.in_store:
        return (*barred_lines(batch), Line(id="none_left", rank="answer"))
    wrong = barred_lines(batch) or past_lines(closed_until(batch, at), at)
    if wrong:
        return wrong
    facts = {"keep_by": keep_by_words(batch, at), "place": PLACE_WORDS[batch.stored.place]}
    return (Line(id="all_done", rank="do", facts=facts),)


def keep_lines(
    batch: Batch, at: datetime, place: Place | None = None, opened: bool = False
) -> tuple[Line, ...]:
    """The answer to "how long does it keep": days, date, what decided it and when to discard.

    place : where it might be kept; None for where it is
    """
    there = _as_if_in(batch, place, at)
    where = there.stored.place
    found = keeping(batch, place or where, opened)
    if batch.barred:
        return barred_lines(batch)
    if found.days is None:
        return (Line(id="keep_refused", rank="limit", facts={"why": found.refuse or ""}),)
    until = opened_until(there, at) if opened else closed_until(there, at)
    sure = batch.bottled is not None or batch.stage is None
    if sure and (past := past_lines(until, at)):
        return past
    facts: dict[str, Fact] = {
        "days": Quantity(value=found.days, unit="day"),
        "place": PLACE_WORDS[where],
    }
    if sure and until is not None:
        facts["date"] = in_words(until)
    return (_keep_head(facts, opened), Line(id="keep_caution", rank="caution"), *_reasons(found))


def _as_if_in(batch: Batch, place: Place | None, at: datetime) -> Batch:
    if place is None or place == batch.stored.place:
        return batch
    return replace(batch, stored=batch.stored.moved(place, at))


def _keep_head(facts: dict[str, Fact], opened: bool) -> Line:
    if opened:
        return Line(id="keep_opened", rank="answer", facts=facts)
    if "date" in facts:
        return Line(id="keep", rank="answer", facts=facts)
    return Line(id="keep_so_far", rank="answer", facts=facts)


def _reasons(found: KeepBy) -> tuple[Line, ...]:
    reasons = (Line(id="keep_reason", rank="detail", facts={"reason": r}) for r in found.reason)
    signs = Line(id="keep_signs", rank="detail", facts={"signs": "; ".join(found.discard_signs)})
    return (*reasons, signs, Line(id="keep_rule", rank="detail"))


PLACE_WORDS: dict[Place, str] = {
    "fridge": "in the fridge",
    "freezer": "in the freezer",
    "cupboard": "in the cupboard",
}
SIGN_WORDS: dict[SignOf, str] = {
    "fizzing": "fizz",
    "bulging": "a bulging bottle",
    "mould": "mould",
    "off_smell": "an off smell",
    "leaking": "a leaking bottle",
    "cloudy": "cloud or slime",
}
"""The signs as things to be named."""
