"""Events carved out of the pages of a damaged SQLite file, without SQLite.

Rows of the journal are never changed or removed, so that a row which is found whole anywhere in the
file is true. (sqlite.org, "Database File Format", sec. 1.6 and 2.1.)
"""

import struct
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

from pydantic import ValidationError

from assistant.facts.events import event_adapter
from assistant.keep.seal import seal
from assistant.keep.wal import read_log

Value = int | float | str | bytes | None
_LEAF, _INDEX_LEAF, _INDEX_INNER = 0x0D, 0x0A, 0x02
_UNREADABLE = (IndexError, ValueError, struct.error, KeyError)
_WIDTHS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8, 7: 8}


@dataclass(frozen=True)
class Carved:
    """One event as it stands in the file."""

    batch: str
    seq: int
    at: str
    kind: str
    body: str


Pages = dict[int, bytes]
"""The pages of a file by number, all of one size."""


def pages_of(data: bytes, log: bytes = b"") -> Pages:
    """The pages in a store's file, newer ones from its log; a page cut short is filled up."""
    size = _page_size(data, log)
    starts = range(0, len(data), size)
    pages = {n: data[at : at + size].ljust(size, b"\0") for n, at in enumerate(starts, start=1)}
    return pages | {n: page for n, page in read_log(log).pages.items() if len(page) == size}


def carve(pages: Pages) -> Iterator[Carved]:
    """The events on some pages, in no order, some perhaps twice."""
    for number, page in pages.items():
        for row in rows_of(page, number, pages):
            event = _event(row)
            if event is not None:
                yield event


def rows_of(page: bytes, number: int, pages: Pages) -> Iterator[list[Value]]:
    """The rows of a table that stand on a page, as far as they can be read.

    pages : where the rest of a long row is found, by number
    """
    size = len(page)
    for cell in _cells(page, 100 if number == 1 else 0):
        with suppress(*_UNREADABLE):
            yield _record(_payload(page, cell, pages, size))


def records_of(page: bytes, number: int) -> Iterator[list[Value]]:
    """The entries of an index that stand whole on a page, as far as they can be read."""
    for kind, ahead in ((_INDEX_LEAF, 0), (_INDEX_INNER, 4)):
        for cell in _cells(page, 100 if number == 1 else 0, kind):
            with suppress(*_UNREADABLE):
                length, at = _varint(page, cell + ahead)
                yield _record(page[at : at + length])


def _page_size(data: bytes, log: bytes) -> int:
    told = struct.unpack(">H", data[16:18])[0] if len(data) >= 18 else 0
    size = 65536 if told == 1 else told
    if size in (2**n for n in range(9, 17)):
        return size
    in_log = struct.unpack(">I", log[8:12])[0] if len(log) >= 12 else 0
    return in_log if in_log in (2**n for n in range(9, 17)) else 4096


def _cells(page: bytes, start: int, kind: int = _LEAF) -> Iterator[int]:
    """Where the cells of a page of that kind begin; none for another page."""
    if len(page) < start + 8 or page[start] != kind:
        return
    many = struct.unpack(">H", page[start + 3 : start + 5])[0]
    head = start + (12 if kind == _INDEX_INNER else 8)
    for place in range(head, min(head + 2 * many, len(page) - 1), 2):
        yield struct.unpack(">H", page[place : place + 2])[0]


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = 0
    for step in range(9):
        byte = data[at + step]
        if step == 8:
            return (value << 8) | byte, at + 9
        value = (value << 7) | (byte & 0x7F)
        if not byte & 0x80:
            return value, at + step + 1
    raise ValueError


def _payload(page: bytes, cell: int, pages: dict[int, bytes], size: int) -> bytes:
    """The bytes of a row, gathered from its overflow pages too."""
    length, at = _varint(page, cell)
    _, at = _varint(page, at)
    if length > size * len(pages):
        raise ValueError
    here = _local(length, size)
    found = page[at : at + here]
    after = struct.unpack(">I", page[at + here : at + here + 4])[0] if here < length else 0
    while len(found) < length:
        if not after:
            raise ValueError
        more = pages[after]
        after = struct.unpack(">I", more[:4])[0]
        found += more[4 : 4 + length - len(found)]
    return found


def _local(length: int, size: int) -> int:
    """How much of a row stands on the leaf itself (sec. 1.6)."""
    if length <= size - 35:
        return length
    least = (size - 12) * 32 // 255 - 23
    wanted = least + (length - least) % (size - 4)
    return wanted if wanted <= size - 35 else least


def _record(payload: bytes) -> list[Value]:
    end, at = _varint(payload, 0)
    kinds = []
    while at < end:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    row: list[Value] = []
    for kind in kinds:
        value, at = _value(payload, kind, at)
        row.append(value)
    return row


def _value(payload: bytes, kind: int, at: int) -> tuple[Value, int]:
    if kind in (0, 8, 9):
        return {0: None, 8: 0, 9: 1}[kind], at
    width = _WIDTHS[kind] if kind < 12 else (kind - 12) // 2
    data = payload[at : at + width]
    if len(data) < width:
        raise ValueError
    if kind == 7:
        return float(struct.unpack(">d", data)[0]), at + width
    if kind < 12:
        return int.from_bytes(data, "big", signed=True), at + width
    return (data.decode() if kind % 2 else data), at + width


def _event(row: list[Value]) -> Carved | None:
    """The row as an event, where it is one and its seal, if it has one, is unbroken."""
    if len(row) not in (5, 6, 7):
        return None
    batch, seq, at, kind, body = row[:5]
    if not (isinstance(batch, str) and isinstance(seq, int) and isinstance(at, str)):
        return None
    if not (isinstance(kind, str) and isinstance(body, str)):
        return None
    if len(row) > 5 and row[5] != seal(batch, seq, body) and not (len(row) == 6 and row[5] is None):
        return None
    try:
        event = event_adapter.validate_json(body)
    except ValidationError:
        return None
    fits = event.kind == kind and event.at.isoformat() == at
    return Carved(batch, seq, at, kind, body) if fits else None
