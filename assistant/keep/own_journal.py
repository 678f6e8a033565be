"""A kitchen's own journal beside a shared store, which knows what that has still to get."""

from sqlalchemy import Connection, delete, func, insert, select

from assistant.keep import opening, schema
from assistant.keep.faults import translated
from assistant.keep.journal import Journal


class OwnJournal(Journal):
    """A kitchen's own journal, which knows what a shared store has still to get."""

    alone = True

    def _along(self, connection: Connection, batch_id: str) -> None:
        if self.alone:
            noted = select(schema.unsent.c.batch).where(schema.unsent.c.batch == batch_id)
            if connection.scalar(noted) is None:
                connection.execute(insert(schema.unsent).values(batch=batch_id))

    def unsent(self) -> list[str]:
        """The batches with events that the shared store may lack."""
        with translated(self.store), opening.reading(self.engine) as connection:
            return list(connection.scalars(select(schema.unsent.c.batch)))

    def latest(self, limit: int | None) -> list[str]:
        """The batches begun last."""
        batch = schema.batches.c
        wanted = select(batch.id).order_by(batch.begun_at.desc()).limit(limit)
        with translated(self.store), opening.reading(self.engine) as connection:
            return list(connection.scalars(wanted))

    def sent(self, batch_id: str, events: int) -> None:
        """The shared store has that many events of a batch."""
        seq = schema.events.c.seq
        last = select(func.max(seq)).where(schema.events.c.batch == batch_id)
        with translated(self.store), self.engine.begin() as connection:
            if connection.scalar(last) == events - 1:
                noted = schema.unsent.c.batch == batch_id
                connection.execute(delete(schema.unsent).where(noted))
