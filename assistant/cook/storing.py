"""Bottles in store: used, opened, moved, thrown away, called back, and signs of spoilage."""

from dataclasses import replace
from datetime import date, datetime

from assistant.cook.batch import Batch
from assistant.cook.canning import shelf_lines
from assistant.cook.changes import Step, changed, stay
from assistant.cook.keep_answers import PLACE_WORDS, barred_lines, past_lines
from assistant.cook.keeping import (
    apart_until,
    closed_until,
    first_closed_until,
    in_words,
    keeping,
    opened_until,
)
from assistant.cook.reply import Fact, Line, Reply
from assistant.cook.sorts import (
    closed_of,
    count_line,
    counted,
    in_store_of,
    sized,
    sorts_filled,
    sorts_in_store,
    which,
)
from assistant.cook.spoiling import take_early_sign
from assistant.cook.stored import Apart, Gone, Opened, Seen
from assistant.facts.events import Ask, Discard, Moved, Recalled, Sign, Used
from assistant.facts.events import Opened as OpenedEvent
from assistant.facts.vessels import Vessel, lot
from assistant.limits import is_low_acid

_GAS = ("fizzing", "bulging", "leaking")
"""Signs that there may be pressure in the bottle."""


def take_used(batch: Batch, event: Used) -> Step:
    """Bottles used up or given away.

    Given away are the closed ones first, used up are those longest open first.
    """
    vessel = which(batch, event.vessel)
    if isinstance(vessel, Line):
        return stay(batch, vessel)
    refused = _too_few(batch, event.count, in_store_of(batch, vessel), vessel=vessel)
    if refused:
        return stay(batch, refused)
    gone = Gone(event.count, event.at, event.to.strip(), vessel=vessel)
    after = _less(batch, gone, opened_first=not gone.to)
    facts: dict[str, Fact] = {
        "count": gone.count,
        "left": in_store_of(after, vessel),
        "to": gone.to,
    }
    plain = Line(id="given" if gone.to else "used", rank="read_back", facts=facts)
    told = _done(plain, vessel, gone.count)
    warned = barred_lines(batch) or past_lines(_earliest(batch, after, event.at), event.at)
    return changed(batch, after), Reply(lines=(told, *warned))


def _less(batch: Batch, gone: Gone, opened_first: bool) -> Batch:
    closed = closed_of(batch, gone.vessel)
    return replace(batch, stored=batch.stored.less(gone, closed, opened_first))


_DEED_OF = {
    "given": "given_of",
    "used": "used_of",
    "opened": "opened_of",
    "discarded_some": "discarded_some_of",
    "moved": "moved_of",
}
"""What is said of a deed where there are several sorts of bottles."""


def _done(plain: Line, vessel: Vessel | None, count: int) -> Line:
    """What was done, read back; where there are several sorts, with the one it was done to."""
    if vessel is None:
        return plain
    facts = {**plain.facts, **sized(vessel, count)}
    return Line(id=_DEED_OF[plain.id], rank=plain.rank, facts=facts)


def _earliest(batch: Batch, after: Batch, at: datetime) -> date | None:
    """The first last day among the bottles that were taken."""
    days = [first_closed_until(batch, at)] if after.closed < batch.closed else []
    days += [
        opened_until(batch, one.at) for one in batch.stored.opened if one not in after.stored.opened
    ]
    return min((day for day in days if day is not None), default=None)


def take_opened(batch: Batch, event: OpenedEvent) -> Step:
    """Closed bottles opened; from now on they keep days only."""
    vessel = which(batch, event.vessel)
    if isinstance(vessel, Line):
        return stay(batch, vessel)
    closed = closed_of(batch, vessel)
    refused = _too_few(batch, event.count, closed, "none_closed", "not_so_many_closed", vessel)
    if refused:
        return stay(batch, refused)
    left = batch.stored.fewer_closed(closed, event.count, vessel)
    opened = (*left.opened, Opened(event.count, event.at, vessel))
    after = replace(batch, stored=replace(left, opened=opened))
    facts: dict[str, Fact] = {"count": event.count, "closed": closed_of(after, vessel)}
    told = _done(Line(id="opened", rank="read_back", facts=facts), vessel, event.count)
    return changed(batch, after), Reply(lines=(told, *_once_open(after, event.at)))


def _once_open(batch: Batch, at: datetime) -> tuple[Line, ...]:
    until = opened_until(batch, at)
    wrong = barred_lines(batch) or past_lines(until, at)
    if wrong or until is None:
        return wrong
    return (Line(id="opened_until", rank="answer", facts={"date": in_words(until)}),)


def take_moved(batch: Batch, event: Moved) -> Step:
    """All that is in store, or some closed bottles, go elsewhere, where they may be kept."""
    some = event.count is not None or event.vessel is not None
    vessel = which(batch, event.vessel) if some else None
    if isinstance(vessel, Line):
        return stay(batch, vessel)
    there = closed_of(batch, vessel) if some else batch.in_store
    refused = _too_few(batch, event.count or 1, there, vessel=vessel)
    if refused:
        return stay(batch, refused)
    found = keeping(batch, event.place)
    if found.days is None:
        why = Line(id="keep_refused", rank="limit", facts={"why": found.refuse or ""})
        way = shelf_lines(batch) if event.place == "cupboard" else ()
        return stay(batch, why, *way, Line(id="move_instead", rank="answer"))
    if some:
        return _move_some(batch, event, event.count or there, vessel)
    return _move_all(batch, event)


def _move_all(batch: Batch, event: Moved) -> Step:
    place = PLACE_WORDS[event.place]
    stored = batch.stored.moved(event.place, event.at)
    if stored == batch.stored:
        return stay(batch, Line(id="there_already", rank="answer", facts={"place": place}))
    after = replace(batch, stored=stored)
    told = Line(id="moved", rank="read_back", facts={"count": batch.in_store, "place": place})
    until = closed_until(after, event.at)
    return changed(batch, after), Reply(lines=(told, *_from_now(after, event, until)))


def _move_some(batch: Batch, event: Moved, count: int, vessel: Vessel | None) -> Step:
    place, closed = PLACE_WORDS[event.place], closed_of(batch, vessel)
    there = batch.stored.movable(event.place, closed, vessel)
    if there == 0:
        return stay(batch, Line(id="there_already", rank="answer", facts={"place": place}))
    count = min(count, there) if event.count is None else count
    refused = _too_few(batch, count, there, few="not_so_many_closed", vessel=vessel)
    if refused:
        return stay(batch, refused)
    stored = batch.stored.moved_apart(count, event.place, closed, event.at, vessel)
    after = replace(batch, stored=stored)
    plain = Line(id="moved", rank="read_back", facts={"count": count, "place": place})
    told = _done(plain, vessel, count)
    until = apart_until(after, stored.apart[-1], event.at)
    return changed(batch, after), Reply(lines=(told, *_from_now(after, event, until)))


def _from_now(batch: Batch, event: Moved, until: date | None) -> tuple[Line, ...]:
    wrong = barred_lines(batch) or past_lines(until, event.at)
    if wrong or until is None:
        return wrong
    freeze = event.place == "freezer"
    room = (Line(id="freeze_room", rank="caution"),) if freeze else ()
    return (Line(id="closed_until", rank="answer", facts={"date": in_words(until)}), *room)


def take_discard(batch: Batch, event: Discard) -> Step:
    """The batch is thrown away, or some bottles of it; it stays in the journal."""
    how = (Line(id="discard_how", rank="caution"), *_out_there(batch))
    if event.count is None and event.vessel is None:
        after = replace(_emptied(batch, event), ended="discarded", discarded_for=event.reason)
        return changed(batch, after), Reply(lines=(Line(id="discarded", rank="answer"), *how))
    vessel = which(batch, event.vessel)
    if isinstance(vessel, Line):
        return stay(batch, vessel)
    there = in_store_of(batch, vessel)
    count = event.count or there
    refused = _too_few(batch, max(count, 1), there, vessel=vessel)
    if refused:
        return stay(batch, refused)
    thrown = Gone(count, event.at, event.reason, thrown=True, vessel=vessel)
    after = _less(batch, thrown, opened_first=True)
    facts: dict[str, Fact] = {"count": count, "left": in_store_of(after, vessel)}
    told = _done(Line(id="discarded_some", rank="read_back", facts=facts), vessel, count)
    return changed(batch, after), Reply(lines=(told, *how))


def _emptied(batch: Batch, event: Discard) -> Batch:
    """The batch with all that is in store thrown away, sort by sort where that is known."""
    sorts = sorts_in_store(batch) if len(sorts_filled(batch)) > 1 else ()
    lots: list[tuple[int, Vessel | None]] = [(one.count, one.vessel) for one in sorts]
    if not lots and batch.in_store:
        lots = [(batch.in_store, None)]
    for count, vessel in lots:
        thrown = Gone(count, event.at, event.reason, thrown=True, vessel=vessel)
        batch = _less(batch, thrown, opened_first=True)
    return batch


def take_sign(batch: Batch, event: Sign) -> Step:
    """A sign of spoilage: the batch is to be thrown away, and how to do that without harm.

    How to handle a bottle under pressure is said with the first such sign of a batch.
    """
    if batch.bottled is None:
        return take_early_sign(batch, event)
    seen = (*batch.stored.signs, Seen(event.what, event.at))
    after = replace(batch, stored=replace(batch.stored, signs=seen))
    told = any(sign.what in _GAS for sign in batch.stored.signs)
    handling = _handling(batch) if event.what in _GAS and not told else ()
    lines = (Line(id=f"sign.{event.what}", rank="limit"), *handling, *_out_there(after))
    return changed(batch, after), Reply(lines=lines)


def _handling(batch: Batch) -> tuple[Line, ...]:
    """Low in acid, or not known to be sour, a bottle under pressure is not opened at all."""
    ph = batch.last("ph")
    sour = batch.recipe.acidity != "low-acid" and ph is not None and not is_low_acid(ph.base)
    return (Line(id="gas_how" if sour else "gas_leave_shut", rank="caution"),)


def _out_there(batch: Batch) -> tuple[Line, ...]:
    """Bottles that went out of a batch that may not be used have to be called back."""
    if not (batch.barred and batch.stored.used):
        return ()
    facts: dict[str, Fact] = {"count": batch.stored.used, "batch": batch.id}
    return (Line(id="out_there", rank="caution", facts=facts),)


def take_recalled(batch: Batch, event: Recalled) -> Step:
    """The batch is called back."""
    if batch.bottled is None:
        return stay(batch, Line(id="no_bottles_yet", rank="answer"))
    if batch.stored.recalled_for is not None:
        return stay(batch, Line(id="recalled_already", rank="answer"))
    after = replace(batch, stored=replace(batch.stored, recalled_for=event.reason))
    facts: dict[str, Fact] = {"count": batch.stored.used}
    line = Line(id="recalled", rank="limit", facts=facts)
    return changed(batch, after), Reply(lines=(line,))


def _too_few(
    batch: Batch,
    wanted: int,
    there: int,
    none: str = "none_left",
    few: str = "not_so_many",
    vessel: Vessel | None = None,
) -> Line | None:
    """Why so many bottles of a sort can't be taken, None when they can."""
    if batch.bottled is None:
        return Line(id="no_bottles_yet", rank="answer")
    if wanted <= there:
        return None
    facts: dict[str, Fact] = {"wanted": wanted, "there": there}
    if vessel is not None:
        known = facts | sized(vessel, there)
        return Line(id="not_so_many_of" if there else "none_left_of", rank="answer", facts=known)
    if there == 0:
        return Line(id=none, rank="answer")
    return Line(id=few, rank="answer", facts=facts)


def larder_lines(batch: Batch, _about: str | None, at: datetime) -> tuple[Line, ...]:
    """What is in store of this batch, of each sort, and until when."""
    nothing = _too_few(batch, 1, batch.in_store)
    if nothing:
        return (nothing, *barred_lines(batch))
    facts: dict[str, Fact] = {
        "closed": batch.closed,
        "opened": batch.stored.open_count,
        "place": PLACE_WORDS[batch.stored.place],
    }
    until = first_closed_until(batch, at)
    wrong = barred_lines(batch) or past_lines(until, at)
    if wrong or until is None:
        return (*counted(batch), *wrong, Line(id="in_store", rank="answer", facts=facts))
    facts["date"] = in_words(until)
    told = Line(id="in_store_until", rank="answer", facts=facts)
    return (*counted(batch), told, *_apart_lines(batch), *_opened_lines(batch, at))


def sort_lines(batch: Batch, event: Ask) -> tuple[Line, ...]:
    """What is in store of one sort, and until when."""
    vessel = which(batch, event.vessel)
    if isinstance(vessel, Line):
        return (vessel, *counted(batch))
    nothing = _too_few(batch, 1, in_store_of(batch, vessel), vessel=vessel)
    if vessel is None or nothing:
        return (nothing,) if nothing else larder_lines(batch, None, event.at)
    facts: dict[str, Fact] = {
        "closed": closed_of(batch, vessel),
        "opened": batch.stored.opened_of(vessel),
    }
    told = Line(id="in_store_of", rank="answer", facts=facts)
    until = first_closed_until(batch, event.at)
    wrong = barred_lines(batch) or past_lines(until, event.at)
    line = count_line(lot(in_store_of(batch, vessel), vessel))
    return (line, *wrong, told)


def _apart_lines(batch: Batch) -> tuple[Line, ...]:
    """The bottles that are kept elsewhere."""
    return tuple(_apart_line(one) for one in batch.stored.apart)


def _apart_line(one: Apart) -> Line:
    facts: dict[str, Fact] = {"count": one.count, "place": PLACE_WORDS[one.place]}
    if one.vessel is None:
        return Line(id="in_store_apart", rank="answer", facts=facts)
    known = facts | sized(one.vessel, one.count)
    return Line(id="in_store_apart_of", rank="answer", facts=known)


def _opened_lines(batch: Batch, at: datetime) -> tuple[Line, ...]:
    """The bottle that is longest open: its last day, or that this day is past."""
    if not batch.stored.opened:
        return ()
    until = opened_until(batch, batch.stored.opened[0].at)
    if until is None:
        return ()
    facts: dict[str, Fact] = {"date": in_words(until)}
    if at.date() > until:
        return (Line(id="past_opened", rank="limit", facts=facts),)
    return (Line(id="opened_first", rank="answer", facts=facts),)
