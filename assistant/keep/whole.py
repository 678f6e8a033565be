"""A whole store, row by row: for backups, for putting them back, for proving them equal."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.keep import opening, schema
from assistant.keep.faults import MEND, translated
from assistant.keep.journal import Journal
from assistant.keep.names import lot_before
from assistant.keep.seal import Tally, link, seal

_AT_ONCE = 2_000
END = "end"
"""Kind of the last line of a backup as JSON Lines."""

Fact = dict[str, Any]


@dataclass(frozen=True)
class Row:
    """One event as it stands in a store, its body as it was written."""

    batch: str
    seq: int
    at: str
    kind: str
    body: str


@dataclass(frozen=True)
class Count:
    """How much a store holds: equal digests, equal events."""

    batches: int
    events: int
    digest: str


def read_all(journal: Journal) -> Iterator[Row]:
    """Every event of a store as of one moment, batch by batch, each proven by its seal."""
    table = schema.events.c
    wanted = select(table.batch, table.seq, table.at, table.kind, table.body, table.seal).order_by(
        table.batch, table.seq
    )
    with translated(journal.store), opening.reading(journal.engine) as connection:
        connection.execution_options(yield_per=_AT_ONCE)
        yield from checked((tuple(row) for row in connection.execute(wanted)), journal.store)


def checked(
    rows: Iterable[tuple[object, ...]], store: str, unsealed: bool = False
) -> Iterator[Row]:
    """Rows with their seals, without them; StoreUnusable at one that is not as it was written.

    unsealed : rows of a layout in which not every event had a seal
    """
    batch, seq = None, -1
    for row in rows:
        found = Row(*row[:5])  # type: ignore[arg-type]
        seq = seq + 1 if found.batch == batch else 0
        batch = found.batch
        sealed = row[5] if len(row) > 5 else None
        proven = seal(found.batch, found.seq, found.body)
        if found.seq != seq or (sealed != proven and not (unsealed and sealed is None)):
            raise StoreUnusable(f"entry {seq} of batch {batch} in {store} is damaged; {MEND}")
        yield found


class Counting:
    """Rows that are counted as they go by."""

    def __init__(self, rows: Iterable[Row]) -> None:
        self._rows, self._tally, self._batches = rows, Tally(), 0

    def __iter__(self) -> Iterator[Row]:
        for row in self._rows:
            self._tally.add(row.batch, row.seq, row.body)
            self._batches += row.seq == 0
            yield row

    @property
    def count(self) -> Count:
        """How much went by so far."""
        return Count(self._batches, self._tally.events, self._tally.digest)


def count(rows: Iterable[Row]) -> Count:
    """How much some rows are, and their digest."""
    counting = Counting(rows)
    for _ in counting:
        pass
    return counting.count


def write_all(journal: Journal, rows: Iterable[Row]) -> None:
    """Write rows, batch by batch and in order, into a store that holds none: all or nothing."""
    with translated(journal.store), journal.engine.begin() as connection:
        if connection.scalar(select(schema.batches.c.id).limit(1)) is not None:
            raise WrongUse(f"{journal.store} holds batches already.")
        before = ""
        for chunk in _chunks(rows):
            begun = [row for row in chunk if row.seq == 0]
            if begun:
                connection.execute(schema.batches.insert(), [_batch(row) for row in begun])
            lots = [lot for row in begun for lot in _lots(row)]
            if lots:
                connection.execute(schema.aliases.insert(), lots)
            sealed = _sealed(chunk, before)
            before = str(sealed[-1]["chain"])
            connection.execute(schema.events.insert(), sealed)
            connection.execute(schema.news.insert(), _last(chunk))


def _chunks(rows: Iterable[Row]) -> Iterator[list[Row]]:
    chunk: list[Row] = []
    for row in rows:
        chunk.append(row)
        if len(chunk) == _AT_ONCE:
            yield chunk
            chunk = []
    if chunk:
        yield chunk


def _batch(row: Row) -> dict[str, str]:
    recipe = str(json.loads(row.body).get("recipe", {}).get("name", ""))
    return {"id": row.batch, "recipe": recipe, "begun_at": row.at}


def _lots(row: Row) -> list[dict[str, str]]:
    """What the batch's labels may say besides its name; an earlier Panside left only the name."""
    lots = json.loads(row.body).get("lots") or [lot_before(row.batch)]
    return [{"lot": str(lot), "batch": row.batch} for lot in lots if lot]


def _sealed(rows: list[Row], before: str) -> list[dict[str, str | int]]:
    """Rows with seal and link, the first one linked to the row before where that is its batch's."""
    sealed = []
    for row in rows:
        before = link(before if row.seq else "", row.batch, row.seq, row.body)
        made = {"seal": seal(row.batch, row.seq, row.body), "chain": before}
        sealed.append(row.__dict__ | made)
    return sealed


def _last(chunk: list[Row]) -> list[dict[str, str | int]]:
    last = {row.batch: row.seq for row in chunk}
    return [{"batch": batch, "seq": seq} for batch, seq in last.items()]


def to_text(rows: Iterable[Row]) -> Iterator[str]:
    """Rows as JSON Lines, an event a line, and a last line that tells how much it must be."""
    counting = Counting(rows)
    for row in counting:
        yield row.body + "\n"
    yield json.dumps({"kind": END, **vars(counting.count)}) + "\n"


def from_text(lines: Iterable[str], name: str) -> Iterator[Row]:
    """The rows in such lines; WrongUse where they are not whole."""
    facts = ((line.rstrip("\r\n"), number) for number, line in enumerate(lines, start=1))
    objects = ((body, _object(body, name, number)) for body, number in facts)
    ended: list[Fact] = []
    counting = Counting(_rows(objects, ended))
    yield from counting
    if not ended:
        raise WrongUse(
            f"{name} lacks its last line: it is cut short, or comes from `panside export`;"
            " `panside import` reads that."
        )
    if ended[0] != {"kind": END, **vars(counting.count)}:
        raise WrongUse(f"{name} is not as it was written: it is other than its last line tells.")


def _rows(objects: Iterable[tuple[str, Fact]], ended: list[Fact]) -> Iterator[Row]:
    """The rows up to the last line, which is put into the list."""
    batch, seq = "", -1
    for body, fact in objects:
        if fact["kind"] == END:
            ended.append(fact)
            return
        batch, seq = (fact["batch"], 0) if fact["kind"] == "begin" else (batch, seq + 1)
        yield Row(batch, seq, datetime.fromisoformat(fact["at"]).isoformat(), fact["kind"], body)


def _object(body: str, name: str, number: int) -> Fact:
    try:
        fact: Fact = json.loads(body)
        if fact["kind"] != END:
            datetime.fromisoformat(fact["at"])
        if fact["kind"] == "begin":
            fact["batch"].encode()
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise WrongUse(f"line {number} of {name} is not an event of a backup.") from error
    return fact
