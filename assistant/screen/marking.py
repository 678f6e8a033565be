"""The journal with the ids of utterances beside their events, so that none is written twice."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from sqlalchemy import Engine

from assistant.events import AnyEvent
from assistant.keep import Journal


class MarkingJournal(Journal):
    """Another journal's store; what is written while `marked` carries the id."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._mark: str | None = None

    @property
    def store(self) -> str:
        """Where the other journal is."""
        return self._journal.store

    @property
    def engine(self) -> Engine:
        """The database behind it, which may change while the network comes and goes."""
        return self._journal.engine

    def events(self, batch_id: str) -> tuple[AnyEvent, ...]:
        """As the journal."""
        return self._journal.events(batch_id)

    @contextmanager
    def marked(self, mark: str) -> Iterator[None]:
        """Within it, events are written together with this id, or not at all."""
        self._mark = mark
        try:
            yield
        finally:
            self._mark = None

    def append_all(
        self, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None = None
    ) -> None:
        """As the journal, with the id of what is being heard."""
        self._journal.append_all(batch_id, events, seq, mark or self._mark)
