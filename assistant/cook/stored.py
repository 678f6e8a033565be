"""What became of a batch's bottles: opened, used, thrown away, moved, and what was seen on them."""

from dataclasses import dataclass, replace
from datetime import datetime

from assistant.events import Place, SignOf


@dataclass(frozen=True)
class Opened:
    """Bottles opened together that are still in store."""

    count: int
    at: datetime


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


@dataclass(frozen=True)
class Move:
    """The bottles in store went to another place."""

    place: Place
    at: datetime


@dataclass(frozen=True)
class Seen:
    """A sign of spoilage."""

    what: SignOf
    at: datetime


@dataclass(frozen=True)
class Stored:
    """The bottles after filling. Nothing here knows how many were filled.

    opened : what is still in store of the opened ones, the longest open first
    recalled_for : why the batch was called back, None when it was not
    """

    gone: tuple[Gone, ...] = ()
    opened: tuple[Opened, ...] = ()
    moves: tuple[Move, ...] = ()
    signs: tuple[Seen, ...] = ()
    recalled_for: str | None = None

    @property
    def place(self) -> Place:
        """Where the bottles are; every recipe puts them in the fridge first."""
        return self.moves[-1].place if self.moves else "fridge"

    @property
    def open_count(self) -> int:
        """How many opened ones are in store."""
        return sum(lot.count for lot in self.opened)

    @property
    def used(self) -> int:
        """How many were used or given away."""
        return sum(gone.count for gone in self.gone if not gone.thrown)

    @property
    def thrown(self) -> int:
        """How many were thrown away."""
        return sum(gone.count for gone in self.gone if gone.thrown)

    def less(self, gone: Gone, closed: int, opened_first: bool) -> "Stored":
        """The store without these bottles.

        closed : how many closed ones there are; the caller has seen to it that there are enough
        opened_first : the longest open go first, else the closed ones do
        """
        from_opened = (
            min(gone.count, self.open_count) if opened_first else max(0, gone.count - closed)
        )
        return replace(
            self, gone=(*self.gone, gone), opened=_without(self.opened, max(0, from_opened))
        )

    def moved(self, place: Place, at: datetime) -> "Stored":
        """The store with its bottles elsewhere."""
        return replace(self, moves=(*self.moves, Move(place, at)))


def _without(opened: tuple[Opened, ...], count: int) -> tuple[Opened, ...]:
    """Opened bottles less so many of those longest open."""
    left: list[Opened] = []
    for lot in opened:
        taken = min(count, lot.count)
        count -= taken
        if lot.count > taken:
            left.append(replace(lot, count=lot.count - taken))
    return tuple(left)
