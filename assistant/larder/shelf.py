"""The larder: a fold over every batch's events, judged by the day that is passed in."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from datetime import date
from typing import Literal

from assistant.cook import Batch, fold
from assistant.cook.keeping import apart_until, closed_until, opened_until
from assistant.cook.sorts import closed_of, sorts_filled, sorts_in_store
from assistant.cook.stored import Apart, Opened
from assistant.facts.events import AnyEvent, Place, SignOf
from assistant.facts.vessels import Of, Vessel

NEAR_DAYS = 3
"""So many days before its last one a bottle is to be used first (common practice, no source)."""

Advice = Literal["throw_away", "use_first", "keep"]
Barred = Literal["stopped", "signed", "recalled"]
Why = Literal["stopped", "signed", "recalled", "past", "near", "opened", "in_time"]


@dataclass(frozen=True)
class Lot:
    """Bottles of one batch that are alike.

    since : the day they were filled, or opened
    keep_by : their last day, None when they must not be kept at all
    size_ml, of, holds_ml : the sort, as of a vessel; size_ml is None where it is not known [ml]
    """

    count: int
    opened: bool
    since: date
    keep_by: date | None
    place: Place
    advice: Advice
    why: Why
    size_ml: float | None = None
    of: Of = "bottle"
    holds_ml: float | None = None

    @property
    def vessel(self) -> Vessel:
        """The sort."""
        return Vessel(size_ml=self.size_ml, of=self.of, holds_ml=self.holds_ml)


@dataclass(frozen=True)
class OfBatch:
    """What is told of a batch's bottles whatever the day."""

    batch: str
    title: str
    fruit: str | None
    filled_on: date
    size_ml: float | None
    place: Place
    filled: int
    used: int
    discarded: int
    signs: tuple[SignOf, ...]
    recalled: bool


@dataclass(frozen=True)
class Entry(OfBatch):
    """One batch's bottles.

    filled = in_store + used + discarded; none are filled of a batch that spoiled in the pan
    lots : what is in store, the closed ones first, then the longest open
    """

    lots: tuple[Lot, ...]

    @property
    def in_store(self) -> int:
        """Bottles still there."""
        return sum(lot.count for lot in self.lots)

    @property
    def in_the_pan(self) -> bool:
        """Whether it showed a sign of spoilage before any bottle was filled."""
        return not self.filled

    @property
    def call_back(self) -> bool:
        """Whether bottles went out that nobody should drink."""
        return bool(self.used and (self.signs or self.recalled))

    def to_throw_away(self) -> int:
        """Bottles in store that are to be thrown away."""
        return sum(lot.count for lot in self.lots if lot.advice == "throw_away")


@dataclass(frozen=True)
class Larder:
    """Every batch that was ever bottled, or spoils in the pan, the oldest first, on one day."""

    on: date
    entries: tuple[Entry, ...]

    def in_store(self) -> tuple[Entry, ...]:
        """The batches of which bottles are there."""
        return tuple(entry for entry in self.entries if entry.in_store)

    def lots(self, advice: Advice) -> tuple[tuple[Entry, Lot], ...]:
        """The bottles with that advice; the first to reach their last day come first."""
        found = [(e, lot) for e in self.entries for lot in e.lots if lot.advice == advice]
        return tuple(sorted(found, key=lambda pair: (pair[1].keep_by or date.min, _age(pair[0]))))


def larder(journals: Iterable[Sequence[AnyEvent]], on: date) -> Larder:
    """What is in store on a day, from the events of all batches, in any order of the batches.

    on : the day the bottles are judged by; all events given count, whatever their date
    """
    return stand((fold(events)[0] for events in journals if events), on)


def stand(batches: Iterable[Batch], on: date) -> Larder:
    """The same from batches that are folded already."""
    shelf = (shelved(batch) for batch in batches)
    return judge((one for one in shelf if one), on)


def judge(shelf: Iterable["Shelved"], on: date) -> Larder:
    """The same from what stands on the shelf."""
    return Larder(on, tuple(sorted((_entry(one, on) for one in shelf), key=_age)))


@dataclass(frozen=True)
class Bottles:
    """Bottles of one batch that are alike, before a day judges them."""

    count: int
    opened: bool
    since: date
    keep_by: date | None
    place: Place
    size_ml: float | None = None
    of: Of = "bottle"
    holds_ml: float | None = None


@dataclass(frozen=True)
class Shelved(OfBatch):
    """One batch's bottles as they stand, whatever the day: what an `Entry` is judged from."""

    barred: Barred | None
    bottles: tuple[Bottles, ...]

    @property
    def matters(self) -> bool:
        """Whether bottles are there, or went out that nobody should drink; or the pan spoils."""
        return bool(
            not self.filled or self.bottles or (self.used and (self.signs or self.recalled))
        )


def up_to(events: Sequence[AnyEvent], day: date) -> tuple[AnyEvent, ...]:
    """The events as they stood at the end of a day.

    What was written later is left out. A clock that was wrong for a while hides nothing that was
    written before the day's last event.
    """
    ends = [number for number, event in enumerate(events, start=1) if event.at.date() <= day]
    return tuple(events[: ends[-1]]) if ends else ()


def shelved(batch: Batch) -> Shelved | None:
    """The bottles of a batch that was filled, and a batch that spoils in the pan; else None."""
    bottled = batch.bottled
    if bottled is None and not batch.spoiling:
        return None
    filled_on = (bottled or batch.stored.signs[-1]).at.date()
    return Shelved(
        batch=batch.id,
        title=batch.recipe.title,
        fruit=batch.fruit,
        filled_on=filled_on,
        size_ml=bottled.size_ml if bottled else None,
        place=batch.stored.place,
        filled=bottled.count if bottled else 0,
        used=batch.stored.used,
        discarded=batch.stored.thrown,
        signs=tuple(seen.what for seen in batch.stored.signs),
        recalled=batch.stored.recalled_for is not None,
        barred=batch.barred,
        bottles=_bottles(batch, filled_on),
    )


def _bottles(batch: Batch, filled_on: date) -> tuple[Bottles, ...]:
    if not batch.in_store:
        return ()
    stored = batch.stored
    return (
        *_closed(batch, filled_on),
        *(
            _of(batch, lot.vessel, lot.count, False, filled_on, _apart_until(batch, lot), lot.place)
            for lot in stored.apart
        ),
        *(
            _of(batch, o.vessel, o.count, True, o.at.date(), _open_until(batch, o), stored.place)
            for o in stored.opened
        ),
    )


def _closed(batch: Batch, filled_on: date) -> Iterator[Bottles]:
    """The closed ones that did not go apart, sort by sort where that is known."""
    keep_by = None if batch.barred else closed_until(batch, batch.begun_at)
    several = len(sorts_filled(batch)) > 1
    sorts: list[Vessel | None] = [one.vessel for one in sorts_in_store(batch)] if several else []
    for vessel in sorts or [None]:
        rest = closed_of(batch, vessel) - batch.stored.apart_of(vessel)
        if rest:
            yield _of(batch, vessel, rest, False, filled_on, keep_by, batch.stored.place)


def _of(
    batch: Batch,
    vessel: Vessel | None,
    count: int,
    opened: bool,
    since: date,
    keep_by: date | None,
    place: Place,
) -> Bottles:
    filled = sorts_filled(batch)
    sort = vessel or (filled[0].vessel if len(filled) == 1 else Vessel())
    return Bottles(count, opened, since, keep_by, place, sort.size_ml, sort.of, sort.holds_ml)


def _apart_until(batch: Batch, lot: Apart) -> date | None:
    return None if batch.barred else apart_until(batch, lot, batch.begun_at)


def _open_until(batch: Batch, lot: Opened) -> date | None:
    return None if batch.barred else opened_until(batch, lot.at)


def _age(entry: Entry) -> tuple[date, str]:
    return (entry.filled_on, entry.batch)


def _entry(one: Shelved, on: date) -> Entry:
    facts = {f.name: getattr(one, f.name) for f in fields(OfBatch)}
    return Entry(**facts, lots=tuple(_lot(one, bottles, on) for bottles in one.bottles))


def _lot(one: Shelved, bottles: Bottles, on: date) -> Lot:
    advice, why = _judged(one.barred, bottles.keep_by, on, bottles.opened)
    facts = {f.name: getattr(bottles, f.name) for f in fields(bottles)}
    return Lot(**facts, advice=advice, why=why)


def _judged(
    barred: Barred | None, keep_by: date | None, on: date, opened: bool
) -> tuple[Advice, Why]:
    if barred:
        return "throw_away", barred
    if keep_by is None or on > keep_by:
        return "throw_away", "past"
    if opened:
        return "use_first", "opened"
    near = (keep_by - on).days <= NEAR_DAYS
    return ("use_first", "near") if near else ("keep", "in_time")
