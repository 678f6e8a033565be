"""What was worked out from each batch, kept so that a long look back is quick. Never the truth.

A summary is worked out again when its batch has events that it does not count, and all are when
the code that works them out has changed. What to work out is passed in.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, delete, func, insert, select

from assistant.errors import StoreUnusable
from assistant.events import AnyEvent
from assistant.keep import opening, schema
from assistant.keep.faults import translated
from assistant.keep.journal import Journal

NEVER = "9999-12-31"
_AT_ONCE = 200
_REFRESHING = 710_194
"""Key of the lock under which a shared server's summaries are written; any number that is ours."""
_table = schema.summaries.c


@dataclass(frozen=True)
class Summary:
    """One batch in brief.

    events : how many events it counts
    begun, last : first and last time, UTC, as text that sorts
    open : whether it can be gone on with
    filled, emptied : the days between which its bottles matter; "" when none were filled, and
        NEVER for the second while they do
    body : whatever else, as JSON
    """

    batch: str
    events: int
    begun: str
    last: str
    recipe: str
    fruit: str
    open: bool
    filled: str
    emptied: str
    body: str


Make = Callable[[tuple[AnyEvent, ...]], Summary]


class Summaries:
    """The summaries of a journal's batches, brought up to date before each look.

    code : tells one version of `make` from another
    tell : is told of what takes long
    complaints : a sentence for each batch that could not be read
    """

    def __init__(
        self, journal: Journal, code: str, make: Make, tell: Callable[[str], None] | None = None
    ) -> None:
        self._journal, self._code, self._make = journal, code, make
        self._tell = tell or (lambda _: None)
        self.complaints: list[str] = []

    def latest(self, limit: int | None = None) -> list[Summary]:
        """The batches begun last, the latest first."""
        return self._look(
            select(schema.summaries).order_by(_table.begun.desc(), _table.batch.desc()), limit
        )

    def shelved(self, on: str) -> list[Summary]:
        """The batches whose bottles may matter on a day."""
        wanted = select(schema.summaries).where(_table.emptied > on, _table.filled <= on)
        return self._look(wanted.order_by(_table.batch))

    def unfinished(self, recipe: str | None = None) -> list[Summary]:
        """The batch worked on last of those that can be gone on with, of a recipe if one is named.

        One at most.
        """
        wanted = select(schema.summaries).where(_table.open == 1).order_by(_table.last.desc())
        return self._look(wanted if recipe is None else wanted.where(_table.recipe == recipe), 1)

    def alike(
        self, recipe: str, fruit: str, before: str = NEVER, limit: int | None = None
    ) -> list[Summary]:
        """The batches of a recipe and fruit begun before a time, the latest first."""
        wanted = select(schema.summaries).where(
            _table.recipe == recipe, _table.fruit == fruit, _table.begun < before
        )
        return self._look(wanted.order_by(_table.begun.desc()), limit)

    def count(self) -> int:
        """How many batches there are."""
        self.refresh()
        with translated(self._journal.store), opening.reading(self._journal.engine) as connection:
            return connection.scalar(select(func.count()).select_from(schema.batches)) or 0

    def _look(self, wanted: Select[Any], limit: int | None = None) -> list[Summary]:
        self.refresh()
        with translated(self._journal.store), opening.reading(self._journal.engine) as connection:
            rows = connection.execute(wanted if limit is None else wanted.limit(limit)).all()
        return [Summary(**(dict(row._mapping) | {"open": bool(row.open)})) for row in rows]

    def refresh(self) -> None:
        """Work out what has changed since."""
        self._check_code()
        self.complaints.clear()
        spoiled: set[str] = set()
        done = 0
        while names := self._news(spoiled):
            made = [found for name in names if (found := self._made(name, spoiled))]
            self._write(made)
            done += len(made)
            if done == _AT_ONCE:
                self._tell("Reading all batches anew, once after a change; this takes a while.")

    def _check_code(self) -> None:
        """After a change of the code everything is news."""
        engine, known = self._journal.engine, select(schema.summary_code.c.code)
        with translated(self._journal.store):
            with opening.reading(engine) as connection:
                if connection.scalar(known) == self._code:
                    return
            with engine.begin() as connection:
                _lock(connection)
                if connection.scalar(known) == self._code:
                    return
                for table in (schema.summary_code, schema.summaries, schema.news):
                    connection.execute(delete(table))
                event = schema.events.c
                last = select(event.batch, func.max(event.seq)).group_by(event.batch)
                connection.execute(insert(schema.news).from_select(["batch", "seq"], last))
                connection.execute(insert(schema.summary_code).values(code=self._code))

    def _news(self, spoiled: set[str]) -> list[str]:
        batch = schema.news.c.batch
        wanted = select(batch).where(batch.not_in(spoiled)).distinct().limit(_AT_ONCE)
        with translated(self._journal.store), opening.reading(self._journal.engine) as connection:
            return list(connection.scalars(wanted))

    def _made(self, name: str, spoiled: set[str]) -> Summary | None:
        try:
            return self._make(self._journal.events(name))
        except StoreUnusable as error:
            spoiled.add(name)
            self.complaints.append(str(error))
            return None

    def _write(self, made: Iterable[Summary]) -> None:
        news = schema.news.c
        with translated(self._journal.store), self._journal.engine.begin() as connection:
            _lock(connection)
            for found in made:
                held = select(_table.events).where(_table.batch == found.batch)
                if (connection.scalar(held) or 0) <= found.events:
                    connection.execute(delete(schema.summaries).where(_table.batch == found.batch))
                    row = vars(found) | {"open": int(found.open)}
                    connection.execute(insert(schema.summaries).values(**row))
                counted = (news.batch == found.batch) & (news.seq < found.events)
                connection.execute(delete(schema.news).where(counted))


def _lock(connection: Connection) -> None:
    """One at a time; a SQLite transaction that writes is alone anyway."""
    if connection.dialect.name == "postgresql":
        connection.execute(select(func.pg_advisory_xact_lock(_REFRESHING)))
