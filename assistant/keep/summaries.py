"""What was worked out from each batch, kept so that a long look back is quick. Never the truth.

A summary is worked out again when its batch has events that it does not count, or when it is asked
for and another version worked it out. What to work out is passed in.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, Select, delete, func, insert, literal, select

from assistant.base.errors import StoreAway, StoreUnusable
from assistant.facts.events import AnyEvent
from assistant.keep import opening, schema
from assistant.keep.aside import in_memory
from assistant.keep.faults import translated
from assistant.keep.journal import Journal
from assistant.keep.seal import facts_seal

T = TypeVar("T")
NEVER = "9999-12-31"
_AT_ONCE = 200
_AT_A_LOOK = 400
"""So many batches are worked out anew at one look; some seconds."""
_TRIES = 3
"""So often a batch is worked out in one look: another program that keeps writing, or that works it
out by another version, is not raced for ever."""
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


_FIELDS = tuple(field.name for field in fields(Summary))
Make = Callable[[tuple[AnyEvent, ...]], Summary]


class Summaries:
    """The summaries of a journal's batches, brought up to date before each look.

    version : tells one `make` from another
    tell : is told of what takes long
    complaints : a sentence for each batch that could not be read
    """

    def __init__(
        self, journal: Journal, version: str, make: Make, tell: Callable[[str], None] | None = None
    ) -> None:
        self._journal, self._version, self._make = journal, version, make
        self._tell = tell or (lambda _: None)
        self.complaints: list[str] = []
        self._aside: Engine | None = None

    def latest(self, limit: int | None = None) -> list[Summary]:
        """The batches begun last, the latest first."""
        return self._look(
            select(schema.summaries).order_by(_table.begun.desc(), _table.batch.desc()), limit
        )

    def shelved(self, on: str) -> list[Summary]:
        """The batches whose bottles may matter on a day."""
        wanted = select(schema.summaries).where(_table.emptied > on, _table.filled <= on)
        # Sorted here: told to sort by batch, SQLite walks all batches in that order.
        return sorted(self._look(wanted), key=lambda row: row.batch)

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
        return self._journal.asked(self._count)

    def _count(self) -> int:
        self._refresh()
        with translated(self._journal.store), opening.reading(self._base) as connection:
            return connection.scalar(select(func.count()).select_from(schema.batches)) or 0

    def _look(self, wanted: Select[Any], limit: int | None = None) -> list[Summary]:
        """What is asked for; what another version had worked out of it is worked out anew first."""
        return self._journal.asked(lambda: self._found(wanted, limit))

    def _found(self, wanted: Select[Any], limit: int | None) -> list[Summary]:
        self._refresh()
        if limit is not None:
            wanted = wanted.limit(limit)
        rows = self._rows(wanted)
        for _ in range(_TRIES):
            stale = [row["batch"] for row in rows if row["code"] != self._version]
            again = [row["batch"] for row in rows if not is_whole(row)]
            again += stale if len(stale) <= _AT_A_LOOK else []
            if not again or not self._again(again):
                break
            rows = self._rows(wanted)
        return [
            Summary(**{k: row[k] for k in _FIELDS} | {"open": bool(row["open"])})
            for row in rows
            if is_whole(row)
        ]

    def _rows(self, wanted: Select[Any]) -> list[dict[str, Any]]:
        with translated(self._journal.store), opening.reading(self._base) as connection:
            return [dict(row._mapping) for row in connection.execute(wanted)]

    def refresh(self, afresh: bool = False) -> None:
        """Work out what has changed since.

        afresh : all that another version had worked out, too, however much it is; without, that is
            done when it is little, and else for what is asked for
        """
        self._journal.asked(lambda: self._refresh(afresh))

    def _refresh(self, afresh: bool = False) -> None:
        self.complaints.clear()
        spoiled: set[str] = set()
        tried: Counter[str] = Counter()
        done = 0
        while names := self._news({*spoiled, *(n for n in tried if tried[n] >= _TRIES)}):
            tried.update(names)
            self._work(names, spoiled)
            done += len(names)
            if done == _AT_ONCE:
                self._tell("Reading many batches for the first time; this takes a while, once.")
        stale = self._stale(-1 if afresh else _AT_A_LOOK + 1)
        if len(stale) > _AT_A_LOOK and not afresh:
            self.complaints.append(
                "Older batches are still told as the version before worked them out;"
                " `panside batches --afresh` works them all out anew."
            )
            return
        for start in range(0, len(stale), _AT_ONCE):
            self._work(stale[start : start + _AT_ONCE], spoiled)

    def _again(self, names: list[str]) -> bool:
        """Whether at least one was worked out."""
        spoiled: set[str] = set()
        self._work(names, spoiled)
        self._drop_strays(names)
        return len(spoiled) < len(names)

    def _drop_strays(self, names: list[str]) -> None:
        """Where a summary's own name was spoiled, the batch that it was of is news again."""
        batch = schema.batches.c.id
        missing = select(batch, literal(0)).where(batch.not_in(select(_table.batch)))

        def drop(connection: Connection) -> bool:
            strays = set(names) - set(connection.scalars(select(batch).where(batch.in_(names))))
            if strays:
                connection.execute(delete(schema.summaries).where(_table.batch.in_(strays)))
                connection.execute(insert(schema.news).from_select(["batch", "seq"], missing))
            return bool(strays)

        if self._change(drop):
            self._refresh()

    def _change(self, do: Callable[[Connection], T]) -> T:
        """Change summaries: where they are, or in memory where nothing can be written."""
        try:
            with translated(self._journal.store), self._base.begin() as connection:
                return do(connection)
        except StoreAway:
            raise
        except StoreUnusable:
            if self._aside is not None:
                raise
            with translated(self._journal.store):
                self._aside = in_memory(self._journal.engine)
            return self._change(do)

    @property
    def _base(self) -> Engine:
        return self._aside or self._journal.engine

    def _work(self, names: list[str], spoiled: set[str]) -> None:
        self._write([found for name in names if (found := self._made(name, spoiled))])

    def _stale(self, limit: int) -> list[str]:
        """Batches that another version worked out; asked twice, since an index serves no "not"."""
        found: list[str] = []
        with translated(self._journal.store), opening.reading(self._base) as connection:
            for other in (_table.code < self._version, _table.code > self._version):
                wanted = select(_table.batch).where(other)
                found += connection.scalars(wanted if limit < 0 else wanted.limit(limit))
        return found

    def _news(self, without: set[str]) -> list[str]:
        batch = schema.news.c.batch
        wanted = select(batch).where(batch.not_in(without)).distinct().limit(_AT_ONCE)
        with translated(self._journal.store), opening.reading(self._base) as connection:
            return list(connection.scalars(wanted))

    def _made(self, name: str, spoiled: set[str]) -> Summary | None:
        try:
            events = self._journal.events(name)
            return self._make(events) if events else None
        except StoreUnusable as error:
            spoiled.add(name)
            self.complaints.append(str(error))
            return None

    def _write(self, made: Iterable[Summary]) -> None:
        rows = [sealed(found, self._version) for found in made]
        self._change(lambda connection: _put(connection, rows))


def _put(connection: Connection, rows: list[dict[str, Any]]) -> None:
    """Write summaries, none over one that counts more events."""
    news = schema.news.c
    _lock(connection)
    for row in rows:
        of_it = _table.batch == row["batch"]
        held = connection.execute(select(schema.summaries).where(of_it)).mappings().first()
        if held is None or not is_whole(held) or held["events"] <= row["events"]:
            connection.execute(delete(schema.summaries).where(of_it))
            connection.execute(insert(schema.summaries).values(**row))
        counted = (news.batch == row["batch"]) & (news.seq < row["events"])
        connection.execute(delete(schema.news).where(counted))


def sealed(found: Summary, version: str) -> dict[str, Any]:
    """A summary as the row that is written, with a seal over all of it."""
    row = vars(found) | {"open": int(found.open), "code": version}
    return row | {"seal": _seal(row)}


def is_whole(row: Mapping[Any, Any]) -> bool:
    """Whether a row still is what was written."""
    return bool(row["seal"] == _seal(row))


def _seal(row: Mapping[Any, Any]) -> str:
    return facts_seal(row[name] for name in (*_FIELDS, "code"))


def _lock(connection: Connection) -> None:
    """One at a time; a SQLite transaction that writes is alone anyway."""
    if connection.dialect.name == "postgresql":
        connection.execute(select(func.pg_advisory_xact_lock(_REFRESHING)))
