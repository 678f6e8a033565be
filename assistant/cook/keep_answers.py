"""What is said about keeping: how long, why, and when it is not to be kept at all."""

from dataclasses import replace
from datetime import date, datetime

from assistant.calc.keeping import FRIDGE_C, KeepBy
from assistant.cook.batch import Batch
from assistant.cook.canning import shelf_lines
from assistant.cook.keeping import closed_until, in_words, keep_by_words, keeping, opened_until
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stops import stop_line
from assistant.facts.events import Place, SignOf


def barred_lines(batch: Batch) -> tuple[Line, ...]:
    """Why no bottle of the batch may be used, () when nothing forbids it."""
    match batch.barred:
        case "stopped":
            return (stop_line(batch, "keep"),)
        case "signed":
            sign = SIGN_WORDS[batch.stored.signs[0].what]
            return (Line(id="keep_signed", rank="limit", facts={"sign": sign}),)
        case "recalled":
            return (Line(id="keep_recalled", rank="limit"),)
        case None:
            return ()


def sign_lines(batch: Batch) -> tuple[Line, ...]:
    """Why the batch stands; with the question whether it is so, until it is answered."""
    if not batch.stored.signs:
        return ()
    sign = batch.stored.signs[-1].what
    facts = {"sign": SIGN_WORDS[sign]}
    if batch.sign_sure or not batch.rules:
        return (Line(id="sign_stands", rank="limit", facts=facts),)
    noted = Line(id="sign_noted", rank="limit", facts=facts)
    return (noted, Line(id=f"sign_sure.{sign}", rank="question"))


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
    opened : once opened, which is in the fridge
    """
    there = _as_if_in(batch, "fridge" if opened else place, at)
    where = there.stored.place
    found = keeping(there, where, opened)
    if batch.barred:
        return barred_lines(batch)
    if found.days is None:
        why = Line(id="keep_refused", rank="limit", facts={"why": found.refuse or ""})
        return (why, *(shelf_lines(batch) if where == "cupboard" else ()))
    until = opened_until(there, at) if opened else closed_until(there, at)
    sure = batch.bottled is not None or batch.stage is None
    if sure and (past := past_lines(until, at)):
        return past
    facts: dict[str, Fact] = {
        "days": Quantity(value=found.days, unit="day"),
        "place": PLACE_WORDS[where],
        "because": because(found.reason[0]),
    }
    if sure and until is not None:
        facts["date"] = in_words(until)
    caution = Line(id="keep_caution", rank="caution")
    return (_keep_head(facts, opened), caution, *_how_cold(where), *_reasons(found))


def _how_cold(place: Place) -> tuple[Line, ...]:
    """Days in the fridge are worth what the fridge is."""
    if place != "fridge":
        return ()
    fridge = Quantity(value=FRIDGE_C, unit="degC", exact=True)
    return (Line(id="keep_cold", rank="detail", facts={"fridge": fridge}),)


def _as_if_in(batch: Batch, place: Place | None, at: datetime) -> Batch:
    if place is None:
        return batch
    return replace(batch, stored=batch.stored.moved(place, at))


def _keep_head(facts: dict[str, Fact], opened: bool) -> Line:
    if opened:
        return Line(id="keep_opened", rank="answer", facts=facts)
    if "date" in facts:
        return Line(id="keep", rank="answer", facts=facts)
    return Line(id="keep_so_far", rank="answer", facts=facts)


def _reasons(found: KeepBy) -> tuple[Line, ...]:
    more = found.reason[1:]
    reasons = (Line(id="keep_reason", rank="detail", facts={"reason": r}) for r in more)
    on = (Line(id="keep_leans", rank="detail", facts={"source": found.source}),)
    signs = Line(id="keep_signs", rank="detail", facts={"signs": "; ".join(found.discard_signs)})
    return (*reasons, *on, signs, Line(id="keep_rule", rank="detail"))


def because(reason: str) -> str:
    """A reason as the end of a sentence.

    >>> because("It is thin in sugar.")
    'it is thin in sugar'
    """
    return reason[0].lower() + reason[1:].rstrip(".")


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
