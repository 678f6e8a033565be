"""Where the bottles of one batch went, as far as its journal knows: what a recall needs."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from assistant.base.errors import WrongUse
from assistant.cook import Batch, fold
from assistant.facts.events import AnyEvent, Place
from assistant.facts.vessels import Vessel


@dataclass(frozen=True)
class Went:
    """Bottles that went out on a day.

    to : "" when nobody was named; vessel : their sort, None where the batch has but one
    """

    on: date
    count: int
    to: str
    vessel: Vessel | None = None


@dataclass(frozen=True)
class Whereabouts:
    """Every bottle of a batch: filled = in_store + went out + discarded.

    stands : how many are in store at each place
    """

    batch: str
    title: str
    fruit: str | None
    filled_on: date
    filled: int
    in_store: int
    stands: tuple[tuple[Place, int], ...]
    discarded: int
    went: tuple[Went, ...]
    reason: str

    @property
    def out(self) -> int:
        """Bottles that went out."""
        return sum(went.count for went in self.went)

    @property
    def unnamed(self) -> int:
        """Bottles that went out to nobody known."""
        return sum(went.count for went in self.went if not went.to)


def whereabouts(events: Sequence[AnyEvent]) -> Whereabouts:
    """Where the bottles are; WrongUse when none were filled."""
    batch, _ = fold(events)
    if batch.bottled is None:
        raise WrongUse(
            f"No bottles of batch {batch.id} are filled yet, so none can be called back."
        )
    stored = batch.stored
    return Whereabouts(
        batch=batch.id,
        title=batch.recipe.title,
        fruit=batch.fruit,
        filled_on=batch.bottled.at.date(),
        filled=batch.bottled.count,
        in_store=batch.in_store,
        stands=_stands(batch),
        discarded=stored.thrown,
        went=tuple(Went(g.at.date(), g.count, g.to, g.vessel) for g in stored.gone if not g.thrown),
        reason=stored.recalled_for or "",
    )


def _stands(batch: Batch) -> tuple[tuple[Place, int], ...]:
    stored = batch.stored
    found = Counter({stored.place: batch.in_store - stored.apart_count})
    for lot in stored.apart:
        found[lot.place] += lot.count
    return tuple((place, count) for place, count in found.items() if count)
