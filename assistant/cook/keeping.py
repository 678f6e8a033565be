"""How long this batch keeps: the core's rule, fed with what was measured and done."""

from dataclasses import replace
from datetime import date, datetime, timedelta

from assistant.calc.keep_reasons import Bottle
from assistant.calc.keeping import FREEZER_DAYS, KeepBy, kept_by
from assistant.cook.batch import Batch
from assistant.cook.canning import tested
from assistant.cook.finished_ph import deciding_ph, is_soured, low_in_acid
from assistant.cook.holding import heated
from assistant.cook.lasting import Hurdles
from assistant.cook.stock import syrup
from assistant.cook.stored import Apart
from assistant.cook.strengths import strengthened
from assistant.facts.events import STRENGTHS_COUNT, Place


def keeping(batch: Batch, place: Place = "fridge", opened: bool = False) -> KeepBy:
    """The keep-by of a batch from its finished pH, its sugar and what of it was held hot.

    Of filled bottles the worst counts that was known since: nothing lengthens a date any more.
    """
    has = hurdles(batch)
    if batch.bottled and batch.lasting.filled:
        has = has.worse(batch.lasting.filled.hurdles)
    shelf = place == "cupboard" and tested(batch)
    return kept_by(Bottle(place=place, opened=opened, tested_canning=shelf, **vars(has)))


def hurdles(batch: Batch) -> Hurdles:
    """What the batch as it is now has that lets it keep."""
    planned = "main_sugar" in batch.recipe.amounts
    stock = syrup(batch) if planned and batch.addition("main_sugar") is not None else None
    has = Hurdles(
        ph=deciding_ph(batch),
        brix=stock.brix.low if stock else None,
        heated=heated(batch),
        low_acid=low_in_acid(batch),
        soured=is_soured(batch),
    )
    return strengthened(batch, has) if batch.rules >= STRENGTHS_COUNT else has


def closed_until(batch: Batch, at: datetime) -> date | None:
    """The last day for a closed bottle, counted from filling; None when it may not be kept.

    at : counts as the filling for a batch that has none yet

    Days in the fridge are counted, days in the freezer are not, and the freezer has its own end.
    """
    filled = filled_on(batch, at)
    if batch.stored.place == "cupboard":
        there = keeping(batch, "cupboard").days
        return None if there is None else filled + timedelta(days=there)
    return _runs_out(batch, filled, filled, keeping(batch).days)


def apart_until(batch: Batch, lot: Apart, at: datetime) -> date | None:
    """The same for closed bottles that are kept elsewhere than the rest."""
    there = replace(batch, stored=replace(batch.stored, moves=lot.moves, apart=()))
    return closed_until(there, at)


def first_closed_until(batch: Batch, at: datetime) -> date | None:
    """The earliest last day among all closed bottles, wherever they are."""
    lots = batch.stored.apart
    rest = batch.closed - batch.stored.apart_count
    days = [apart_until(batch, lot, at) for lot in lots]
    if rest or not lots:
        days.append(closed_until(batch, at))
    return None if None in days else min(day for day in days if day is not None)


def opened_until(batch: Batch, opened_at: datetime) -> date | None:
    """The last day for a bottle opened then; never later than for a closed one."""
    closed = closed_until(batch, opened_at)
    days = keeping(batch, opened=True).days
    opened = _runs_out(batch, opened_at.date(), filled_on(batch, opened_at), days)
    return None if closed is None or opened is None else min(closed, opened)


def filled_on(batch: Batch, at: datetime) -> date:
    """The day from which bottles count: the first filling, also where it was taken back since.

    at : counts for a batch that has no bottles yet
    """
    if batch.bottled is None:
        return at.date()
    first = batch.lasting.filled
    return min(first.at if first else batch.bottled.at, batch.bottled.at).date()


def _runs_out(batch: Batch, start: date, filled: date, days: int | None) -> date | None:
    """When the days for the fridge, counted from the start, are used up.

    A day in the fridge that was begun counts whole. What was over its date when it was frozen
    stays so, and freezing lengthens nothing past the freezer's own days, counted from filling.
    """
    if days is None or batch.stopped_by:
        return None
    frozen_until = filled + timedelta(days=FREEZER_DAYS)
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
