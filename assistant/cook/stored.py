"""What became of a batch's bottles: opened, used, thrown away, moved, and what was seen on them.

A `vessel` is the sort of bottle, where the batch has several; None for its only one, and where
nobody said.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar

from assistant.facts.events import Place, SignOf
from assistant.facts.vessels import Vessel


@dataclass(frozen=True)
class Opened:
    """Bottles opened together that are still in store."""

    count: int
    at: datetime
    vessel: Vessel | None = None


@dataclass(frozen=True)
class Gone:
    """Bottles that left the store.

    to : who got them, "" when nobody was named
    thrown : thrown away, not used
    """

    count: int
    at: datetime
    to: str = ""
    thrown: bool = False
    vessel: Vessel | None = None


@dataclass(frozen=True)
class Move:
    """The bottles in store went to another place."""

    place: Place
    at: datetime


@dataclass(frozen=True)
class Apart:
    """Closed bottles kept elsewhere than the rest, with all their moves from filling on."""

    count: int
    moves: tuple[Move, ...]
    vessel: Vessel | None = None

    @property
    def place(self) -> Place:
        """Where they are."""
        return self.moves[-1].place


@dataclass(frozen=True)
class Seen:
    """A sign of spoilage."""

    what: SignOf
    at: datetime


@dataclass(frozen=True)
class Stored:
    """The bottles after filling. Nothing here knows how many were filled.

    opened : what is still in store of the opened ones, the longest open first
    moves : of the rest, the opened ones among them; apart : closed bottles that went on their own
    recalled_for : why the batch was called back, None when it was not
    """

    gone: tuple[Gone, ...] = ()
    opened: tuple[Opened, ...] = ()
    moves: tuple[Move, ...] = ()
    apart: tuple[Apart, ...] = ()
    signs: tuple[Seen, ...] = ()
    recalled_for: str | None = None

    @property
    def place(self) -> Place:
        """Where those are that did not go apart; every recipe begins in the fridge."""
        return self.moves[-1].place if self.moves else "fridge"

    @property
    def open_count(self) -> int:
        """How many opened ones are in store."""
        return sum(lot.count for lot in self.opened)

    @property
    def apart_count(self) -> int:
        """How many closed ones went apart."""
        return sum(lot.count for lot in self.apart)

    @property
    def used(self) -> int:
        """How many were used or given away."""
        return sum(gone.count for gone in self.gone if not gone.thrown)

    @property
    def thrown(self) -> int:
        """How many were thrown away."""
        return sum(gone.count for gone in self.gone if gone.thrown)

    def opened_of(self, vessel: Vessel | None) -> int:
        """How many opened ones of a sort are in store; of all for None."""
        return sum(lot.count for lot in self.opened if vessel in (None, lot.vessel))

    def apart_of(self, vessel: Vessel | None) -> int:
        """How many closed ones of a sort went apart; of all for None."""
        return sum(lot.count for lot in self.apart if vessel in (None, lot.vessel))

    def gone_of(self, vessel: Vessel | None) -> int:
        """How many of a sort left the store; of all for None."""
        return sum(gone.count for gone in self.gone if vessel in (None, gone.vessel))

    def less(self, gone: Gone, closed: int, opened_first: bool) -> "Stored":
        """The store without these bottles.

        closed : how many closed ones of their sort there are; the caller has seen to it that there
            are enough
        opened_first : the longest open go first, else the closed ones do
        """
        opened = self.opened_of(gone.vessel)
        from_opened = min(gone.count, opened) if opened_first else max(0, gone.count - closed)
        left = self.fewer_closed(closed, gone.count - max(0, from_opened), gone.vessel)
        return replace(
            left,
            gone=(*self.gone, gone),
            opened=_without(self.opened, max(0, from_opened), gone.vessel),
        )

    def fewer_closed(self, closed: int, taken: int, vessel: Vessel | None = None) -> "Stored":
        """The store with so many closed bottles less: those that went apart go last."""
        rest = closed - self.apart_of(vessel)
        return replace(self, apart=_without(self.apart, max(0, taken - rest), vessel))

    def moved(self, place: Place, at: datetime) -> "Stored":
        """The store with all its bottles elsewhere."""
        move = Move(place, at)
        apart = tuple(
            lot if lot.place == place else replace(lot, moves=(*lot.moves, move))
            for lot in self.apart
        )
        rest = self if self.place == place else replace(self, moves=(*self.moves, move))
        return replace(rest, apart=apart)

    def movable(self, place: Place, closed: int, vessel: Vessel | None = None) -> int:
        """How many closed bottles of a sort are elsewhere than there."""
        away = sum(
            lot.count for lot in self.apart if lot.place != place and vessel in (None, lot.vessel)
        )
        return away + (0 if self.place == place else closed - self.apart_of(vessel))

    def moved_apart(
        self, count: int, place: Place, closed: int, at: datetime, vessel: Vessel | None = None
    ) -> "Stored":
        """The store with so many closed bottles elsewhere; the caller has seen that they are there.

        Of the rest first, then of those that went apart before.
        """
        move = Move(place, at)
        rest = closed - self.apart_of(vessel)
        of_rest = 0 if self.place == place else min(count, rest)
        gone: tuple[Apart, ...] = ()
        if of_rest:
            gone = (Apart(of_rest, (*self.moves, move), vessel),)
        kept: list[Apart] = []
        left = count - of_rest
        for lot in self.apart:
            meant = lot.place != place and vessel in (None, lot.vessel)
            taken = min(left, lot.count) if meant else 0
            left -= taken
            gone += (Apart(taken, (*lot.moves, move), lot.vessel),) if taken else ()
            kept += [replace(lot, count=lot.count - taken)] if lot.count > taken else []
        return replace(self, apart=(*kept, *gone))


Lot = TypeVar("Lot", Opened, Apart)


def _without(lots: tuple[Lot, ...], count: int, vessel: Vessel | None = None) -> tuple[Lot, ...]:
    """Bottles less so many of the first lots of a sort: of opened ones those longest open."""
    left: list[Lot] = []
    for lot in lots:
        taken = min(count, lot.count) if vessel in (None, lot.vessel) else 0
        count -= taken
        if lot.count > taken:
            left.append(replace(lot, count=lot.count - taken))
    return tuple(left)
