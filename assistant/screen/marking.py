"""The journal with the ids of utterances beside their events, so that none is written twice."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy import Engine

from assistant.facts.events import AnyEvent
from assistant.keep import BatchRow, Journal, Lease


class MarkingJournal(Journal):
    """Another journal; what is written while `marked` carries the id."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._mark: str | None = None

    @contextmanager
    def marked(self, mark: str) -> Iterator[None]:
        """Within it, events are written together with this id, or not at all."""
        self._mark = mark
        try:
            yield
        finally:
            self._mark = None

    @property
    def store(self) -> str:
        """Where the other is."""
        return self._journal.store

    @property
    def engine(self) -> Engine:
        """The other's database."""
        return self._journal.engine

    def append_all(
        self, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None = None
    ) -> None:
        """As the other, with the id of what is being heard."""
        self._journal.append_all(batch_id, events, seq, mark or self._mark)

    def has_mark(self, batch_id: str, mark: str) -> bool:
        """Whether the other has written events with that id."""
        return self._journal.has_mark(batch_id, mark)

    def events(self, batch_id: str) -> tuple[AnyEvent, ...]:
        """The events of a batch."""
        return self._journal.events(batch_id)

    def length(self, batch_id: str) -> int:
        """How many events of a batch there are."""
        return self._journal.length(batch_id)

    def names(self, starting: str = "") -> list[str]:
        """The batches whose names start like that."""
        return self._journal.names(starting)

    def batches(self) -> list[BatchRow]:
        """All batches."""
        return self._journal.batches()

    def acquire(self, batch_id: str, now: datetime, until: datetime, join: bool = False) -> Lease:
        """Ask the other for a batch to work on."""
        return self._journal.acquire(batch_id, now, until, join)

    def renew(self, batch_id: str, until: datetime) -> None:
        """Give a lease of the other longer."""
        self._journal.renew(batch_id, until)

    def release(self, batch_id: str) -> None:
        """Nobody works on the batch any more."""
        self._journal.release(batch_id)

    def lease(self, batch_id: str) -> Lease | None:
        """Who works on a batch."""
        return self._journal.lease(batch_id)

    def close(self) -> None:
        """The other is closed by whom it belongs to."""
