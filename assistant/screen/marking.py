"""The journal with the ids of utterances beside their events, so that none is written twice."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from assistant.events import AnyEvent
from assistant.keep import Journal


class MarkingJournal(Journal):
    """Another journal's store; what is written while `marked` carries the id."""

    def __init__(self, journal: Journal) -> None:
        self.store = journal.store
        self.engine = journal.engine
        self._mark: str | None = None

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
        super().append_all(batch_id, events, seq, mark or self._mark)
