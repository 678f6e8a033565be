"""Looking back over all batches, quickly: what is in store, what was made, what is unfinished.

Each batch is folded once and remembered in brief; see `assistant.keep.summaries`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime

from pydantic import TypeAdapter

from assistant.base.errors import BadRecipe, WrongUse
from assistant.cook import Batch, fold
from assistant.facts.events import AnyEvent, Begin, Stop
from assistant.keep import NEVER, Journal, Summaries, Summary
from assistant.larder import Larder, Shelved, judge, larder, shelved, up_to

VERSION = 4
"""Raised whenever a batch that was written would be told otherwise than before. A test holds what
is told of kept batches to what it was; `python -m tests.past.golden` notes the new telling."""


@dataclass(frozen=True)
class Brief:
    """One batch in a line.

    stage : where it is, None when it is done
    ended : how it ended, None while it can be gone on with
    cut_off : whether its last session did not end in good order
    shelf : its bottles, None when none were filled and nothing spoils in the pan
    wrong : why it can't be read, "" when it can
    """

    batch: str
    recipe: str
    fruit: str | None
    begun: str
    stage: str | None
    ended: str | None
    cut_off: bool
    shelf: Shelved | None
    wrong: str = ""


_brief = TypeAdapter(Brief)


class LookBack:
    """All batches of a journal, without folding them all.

    tell : is told once when that takes long, after an update
    """

    def __init__(self, journal: Journal, tell: Callable[[str], None] | None = None) -> None:
        self._journal = journal
        self._summaries = Summaries(journal, f"{VERSION}", summary, tell)

    @property
    def complaints(self) -> tuple[str, ...]:
        """A sentence for each batch that could not be read in the last look."""
        return tuple(self._summaries.complaints)

    def larder(self, today: date, on: date | None = None) -> Larder:
        """What is in store: today as all that was written has it, or at the end of another day."""
        if on is None:
            found = (_read(row).shelf for row in self._summaries.shelved(today.isoformat()))
            return judge((shelf for shelf in found if shelf), today)
        names = [row.batch for row in self._summaries.shelved(on.isoformat())]
        return larder([up_to(self._journal.events(name), on) for name in names], on)

    def batches(self, limit: int | None = None) -> list[Brief]:
        """The batches begun last, the latest first."""
        return [_read(row) for row in self._summaries.latest(limit)]

    def afresh(self) -> None:
        """Work out anew all that an older version had worked out."""
        self._summaries.refresh(afresh=True)

    def count(self) -> int:
        """How many batches there are."""
        return self._summaries.count()

    def unfinished(self, recipe: str | None = None) -> Brief | None:
        """The batch worked on last that can be gone on with, of a recipe if one is named."""
        return next((_read(row) for row in self._summaries.unfinished(recipe)), None)

    def alike(
        self, recipe: str, fruit: str, before: datetime | None = None, limit: int | None = None
    ) -> list[Brief]:
        """The batches of a recipe and fruit begun before a time, the latest first."""
        until = _utc(before) if before else NEVER
        return [_read(row) for row in self._summaries.alike(recipe, fruit, until, limit)]


def summary(events: tuple[AnyEvent, ...]) -> Summary:
    """One batch in brief, from all its events."""
    first = events[0]
    assert isinstance(first, Begin)
    brief = _told(first, events)
    days = [event.at.date().isoformat() for event in events]
    matters = brief.shelf is not None and brief.shelf.matters
    return Summary(
        batch=first.batch,
        events=len(events),
        begun=_utc(first.at),
        last=_utc(events[-1].at),
        recipe=brief.recipe,
        fruit=brief.fruit or "",
        open=brief.ended is None and not brief.wrong,
        filled=min(days) if brief.shelf else "",
        emptied=NEVER if matters else max(days) if brief.shelf else "",
        body=_brief.dump_json(brief).decode(),
    )


def _told(first: Begin, events: tuple[AnyEvent, ...]) -> Brief:
    begun = first.at.isoformat()
    try:
        batch, _ = fold(events)
    except (BadRecipe, WrongUse) as error:
        name = str(first.recipe.get("name", ""))
        return Brief(first.batch, name, None, begun, None, None, False, None, str(error))
    return Brief(
        batch=batch.id,
        recipe=batch.recipe.name,
        fruit=batch.fruit,
        begun=batch.begun_at.isoformat(),
        stage=batch.stage.id if batch.stage else None,
        ended=batch.ended,
        cut_off=not isinstance(events[-1], Stop),
        shelf=_shelf(batch),
    )


def _shelf(batch: Batch) -> Shelved | None:
    return shelved(batch)


def _read(row: Summary) -> Brief:
    return _brief.validate_json(row.body)


def _utc(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="microseconds")
