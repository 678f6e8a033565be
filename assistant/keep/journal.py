"""The journal: every accepted event of every batch, in order, never edited.

One SQLite file by default, or a PostgreSQL database where several kitchens share one. An event is
on the disk when `append` returns.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self, TypeVar
from weakref import finalize

from pydantic import ValidationError
from pydantic_core import PydanticSerializationError
from sqlalchemy import Connection, Engine, func, select
from sqlalchemy.exc import IntegrityError

from assistant.base.errors import AnotherSession, StoreSetBack, StoreUnusable, WrongUse
from assistant.facts.events import AnyEvent, Begin, By, event_adapter
from assistant.keep import leases, opening, schema, standing
from assistant.keep.dated import is_dated, misdated
from assistant.keep.faults import MEND, translated
from assistant.keep.leases import LENGTH, Lease
from assistant.keep.lots import batches_of, printed
from assistant.keep.patience import TURN, within
from assistant.keep.seal import link, seal

T = TypeVar("T")

CHANNEL = "panside"
"""On which a server tells that a batch was written to."""
_LAST = "\U0010ffff"


@dataclass(frozen=True)
class BatchRow:
    """One batch of the journal: its recipe's name, how many events, first and last time."""

    id: str
    recipe: str
    begun_at: datetime
    events: int
    last_at: datetime


class Journal:
    """The store of events. Safe to use from several threads and processes at once.

    >>> from datetime import UTC
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder, Journal(Path(folder) / "store.sqlite") as journal:
    ...     at = datetime(2026, 7, 4, 15, 0, tzinfo=UTC)
    ...     journal.append("b-1", Begin(at=at, batch="b-1", recipe={"name": "rhubarb"}), 0)
    ...     [row.recipe for row in journal.batches()]
    ['rhubarb']
    """

    _by: By | None = None

    def __init__(self, store: str | Path) -> None:
        """Open the store at a path or URL, making what is missing; StoreUnusable if it can't be."""
        url = opening.address(store)
        self._store = opening.shown(url)
        self._asks = leases.asker()
        self._leased: set[str] = set()
        opened = opening.open_store(url)
        self._engine, self._why_not = opened.engine, opened.why_not
        self._brought_in = True
        self._end = finalize(self, standing.close, self._engine)

    @property
    def store(self) -> str:
        """Where it is, as it may be shown."""
        return self._store

    @property
    def engine(self) -> Engine:
        """The database behind it."""
        return self._engine

    def append(self, batch_id: str, event: AnyEvent, seq: int) -> None:
        """Write one event; it is on the disk when this returns.

        seq : how many events of the batch came before it, as far as the caller knows. When another
            session has written meanwhile, StoreUnusable and nothing is written.
        """
        self.append_all(batch_id, (event,), seq)

    def append_all(
        self, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None = None
    ) -> None:
        """Write several events as one: all of them or none, signed by who works here.

        mark : id of the message they came with, written along; a second time is refused
        """
        self.take_in(batch_id, self._signed(events), seq, mark)

    def take_in(
        self, batch_id: str, events: Sequence[AnyEvent], seq: int, mark: str | None = None
    ) -> None:
        """The same, as they are: events that somebody else may have written."""
        if not events:
            return
        if self._why_not is not None:
            raise StoreUnusable(str(self._why_not))
        rows = self._rows(batch_id, events, seq)
        with self._in_a_turn():
            try:
                with self.engine.begin() as connection:
                    if batch_id in self._leased:
                        leases.keep(connection, batch_id, self._asks, events[-1].at + LENGTH)
                    before = self._check_turn(connection, batch_id, seq)
                    if seq == 0:
                        _write_beginning(connection, batch_id, events[0])
                    connection.execute(schema.events.insert(), _chained(rows, before))
                    last = {"batch": batch_id, "seq": seq + len(events) - 1}
                    connection.execute(schema.news.insert().values(**last))
                    if mark is not None:
                        marked = {"batch": batch_id, "id": mark}
                        connection.execute(schema.marks.insert().values(**marked))
                    self._along(connection, batch_id)
                    _tell_others(connection, batch_id)
                    unmarked = standing.note_turn(connection)
                if unmarked or not self._brought_in:
                    self._brought_in = standing.bring_in(self.engine)
            except IntegrityError as error:
                raise _another_session(batch_id) from error

    def sign(self, by: By | None) -> None:
        """Who works here: each event that is appended from now on says so; nobody for None."""
        self._by = by
        self.work_as(by.person or by.device if by else "", by.kitchen if by else "")

    def _signed(self, events: Sequence[AnyEvent]) -> Sequence[AnyEvent]:
        if self._by is None:
            return events
        by = {"by": self._by}
        return [event if event.by else event.model_copy(update=by) for event in events]

    def _along(self, connection: Connection, batch_id: str) -> None:
        """What a journal of another kind writes in the same transaction."""

    def has_mark(self, batch_id: str, mark: str) -> bool:
        """Whether events were written with that message's id."""
        return bool(self.marked([batch_id], mark))

    def marked(self, names: Sequence[str], mark: str) -> set[str]:
        """Those of some batches to which events were written with that message's id."""
        table = schema.marks.c
        wanted = select(table.batch).where(table.batch.in_(names), table.id == mark)
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            return set(connection.scalars(wanted))

    def events(self, batch_id: str) -> tuple[AnyEvent, ...]:
        """The events of a batch in order; () for a batch that the journal does not know."""
        table = schema.events.c
        wanted = (
            select(table.seq, table.body, table.seal)
            .where(table.batch == batch_id)
            .order_by(table.seq)
        )
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            rows = connection.execute(wanted).all()
        for number, (seq, body, sealed) in enumerate(rows):
            if seq != number or sealed != seal(batch_id, seq, body):
                raise self._damaged(batch_id, number)
        return tuple(self._event(batch_id, seq, body) for seq, body, _ in rows)

    def length(self, batch_id: str) -> int:
        """How many events of a batch there are."""
        table = schema.events.c
        wanted = select(func.max(table.seq)).where(table.batch == batch_id)
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            last = connection.scalar(wanted)
        return 0 if last is None else last + 1

    def lengths(self, names: Sequence[str]) -> dict[str, int]:
        """How many events there are of each of these batches; those that are not there are not."""
        table = schema.events.c
        wanted = select(table.batch, func.max(table.seq) + 1).where(table.batch.in_(names))
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            rows = connection.execute(wanted.group_by(table.batch)).all()
        return {str(name): int(count) for name, count in rows}

    def names(self, starting: str = "") -> list[str]:
        """The batches whose names start like that, without a look at their events."""
        name = schema.batches.c.id
        wanted = select(name).order_by(name)
        if starting:
            wanted = wanted.where(name.startswith(starting, autoescape=True))
        if starting and self.engine.dialect.name == "sqlite":
            # It finds no LIKE by its index; a server sorts by its own language's order.
            wanted = wanted.where(name >= starting, name <= starting + _LAST)
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            return list(connection.scalars(wanted))

    def called(self, lot: str) -> list[str]:
        """The batches that a cook can mean by a lot, in full or in short (`assistant.keep.lots`).

        Where several carry it on their labels, the one whose own name it is comes first.
        """
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            return batches_of(connection, lot)

    def carrying(self, lot: str) -> list[str]:
        """The batches whose labels may carry just that lot, the one of that name first."""
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            return printed(connection, lot)

    def batches(self) -> list[BatchRow]:
        """All batches, the oldest first."""
        batch, event = schema.batches.c, schema.events.c
        last = (
            select(event.batch, func.max(event.seq).label("seq")).group_by(event.batch).subquery()
        )
        wanted = (
            select(batch.id, batch.recipe, batch.begun_at, event.seq + 1, event.at)
            .join(last, last.c.batch == batch.id)
            .join(schema.events, (event.batch == last.c.batch) & (event.seq == last.c.seq))
        )
        with translated(self.store), opening.reading(self.engine) as connection:
            rows = connection.execute(wanted).all()
        found = [
            BatchRow(id_, recipe, datetime.fromisoformat(begun), count, datetime.fromisoformat(at))
            for id_, recipe, begun, count, at in rows
        ]
        return sorted(found, key=lambda row: (row.begun_at, row.id))

    def go_on_as(self, other: "Journal", batches: Iterable[str]) -> None:
        """Ask for leases as another journal does, and have those that it has of these batches."""
        self._asks = other._asks
        self._leased |= set(batches)

    def work_as(self, who: str, where: str) -> None:
        """What others are told who works on the batches that are leased from now on."""
        self._asks = replace(self._asks, who=who, where=where)

    def acquire(self, batch_id: str, now: datetime, until: datetime, join: bool = False) -> Lease:
        """Ask for a batch to work on: the lease is `mine`, or tells who works on it.

        join : take it over from who works on it, who is told with the next turn
        From then on each turn checks that it still is ours, and gives it longer.
        """
        with self._in_a_turn(), self.engine.begin() as connection:
            found = leases.take(connection, batch_id, self._asks, now, until, join)
        if found.mine:
            self._leased.add(batch_id)
        return found

    def renew(self, batch_id: str, until: datetime) -> None:
        """Give a lease longer without a turn; LeaseLost when somebody else has taken it."""
        with self._in_a_turn(), self.engine.begin() as connection:
            leases.keep(connection, batch_id, self._asks, until)

    def release(self, batch_id: str) -> None:
        """Nobody works on the batch any more."""
        self._leased.discard(batch_id)
        with self._in_a_turn(), self.engine.begin() as connection:
            leases.give_back(connection, batch_id, self._asks)

    def lease(self, batch_id: str) -> Lease | None:
        """Who works on a batch, or did so last and has not given it back."""
        with self._in_a_turn(), opening.reading(self.engine) as connection:
            return leases.look(connection, batch_id, self._asks)

    def asked(self, ask: Callable[[], T]) -> T:
        """The answer to a question about its tables; asked again where another store takes over."""
        return ask()

    @contextmanager
    def _in_a_turn(self) -> Iterator[None]:
        """What a cook waits for: faults told in a sentence, a stalled server given up soon."""
        with translated(self.store), within(TURN):
            yield

    def close(self) -> None:
        """Let go of the file or the server. The journal can't be used afterwards."""
        for batch_id in sorted(self._leased):
            with suppress(StoreUnusable):
                self.release(batch_id)
        self._end()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _rows(
        self, batch_id: str, events: Sequence[AnyEvent], seq: int
    ) -> list[dict[str, str | int]]:
        for event in events:
            if not is_dated(event):
                raise WrongUse(f"an entry of batch {batch_id} {misdated(event)}")
        return [
            {
                "batch": batch_id,
                "seq": number,
                "at": event.at.isoformat(),
                "kind": event.kind,
                "body": (body := self._body(event)),
                "seal": seal(batch_id, number, body),
            }
            for number, event in enumerate(events, start=seq)
        ]

    def _body(self, event: AnyEvent) -> str:
        try:
            return event_adapter.dump_json(event).decode()
        except PydanticSerializationError as error:
            raise StoreUnusable(
                f"what was heard can't be written to {self.store} ({error}); say it again"
            ) from error

    def _event(self, batch_id: str, seq: int, body: str) -> AnyEvent:
        try:
            event = event_adapter.validate_json(body)
        except ValidationError as error:
            raise self._damaged(batch_id, seq) from error
        if not is_dated(event):
            raise StoreUnusable(
                f"entry {seq} of batch {batch_id} in {self.store} {misdated(event)}"
            )
        return event

    def _damaged(self, batch_id: str, seq: int) -> StoreUnusable:
        return StoreUnusable(
            f"entry {seq} of batch {batch_id} in {self.store} can't be read, the store is damaged;"
            f" {MEND}"
        )

    def _check_turn(self, connection: Connection, batch_id: str, seq: int) -> str:
        """The last link of the batch's chain, if it is the caller's turn to write."""
        table = schema.events.c
        wanted = select(table.seq, table.chain).where(table.batch == batch_id)
        last = connection.execute(wanted.order_by(table.seq.desc()).limit(1)).first()
        held = 0 if last is None else last.seq + 1
        if held > seq:
            raise _another_session(batch_id)
        if held < seq:
            raise StoreSetBack(
                f"{self.store} holds {held} entries of batch {batch_id} where {seq} were written;"
                " it was exchanged meanwhile: start Panside again"
            )
        return last.chain or "" if last else ""


def _tell_others(connection: Connection, batch_id: str) -> None:
    """A server tells who listens, when this is on the disk."""
    if connection.dialect.name == "postgresql":
        connection.execute(select(func.pg_notify(CHANNEL, batch_id)))


def _another_session(batch_id: str) -> AnotherSession:
    return AnotherSession(
        f"another session is working on this batch ({batch_id}); end one of them and start again"
    )


def _write_beginning(connection: Connection, batch_id: str, event: AnyEvent) -> None:
    if not isinstance(event, Begin) or event.batch != batch_id:
        raise WrongUse(f"the first entry of batch {batch_id} must be its beginning")
    recipe = str(event.recipe.get("name", ""))
    begun = {"id": batch_id, "recipe": recipe, "begun_at": event.at.isoformat()}
    connection.execute(schema.batches.insert().values(**begun))
    if event.lots:
        also = [{"lot": lot, "batch": batch_id} for lot in event.lots]
        connection.execute(schema.aliases.insert(), also)


def _chained(rows: list[dict[str, str | int]], before: str) -> list[dict[str, str | int]]:
    """The rows with their links to the ones before."""
    for row in rows:
        before = link(before, str(row["batch"]), int(row["seq"]), str(row["body"]))
        row["chain"] = before
    return rows
