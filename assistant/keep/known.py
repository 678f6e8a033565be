"""What a damaged SQLite file still tells of the events that were in it, besides the events.

Each event stands in an index too, and the batches, the news and the summaries say how far a batch
had come. Damage seldom takes all of them, so that a loss can be told although nothing is left of
what was lost. (sqlite.org, "Database File Format", sec. 1.6.)
"""

import struct
from collections import Counter, defaultdict
from collections.abc import Iterator

from assistant.keep.carve import Pages, Value, records_of, rows_of

_TREE = (0x02, 0x05, 0x0A, 0x0D)
"""The kinds of pages that trees are made of."""
_MANY = 1_000_000
"""No batch has so many events."""


def expected(pages: Pages) -> dict[str, int]:
    """How many events each batch had at least, as far as anything in the file tells."""
    least: dict[str, int] = defaultdict(int)
    told: Counter[str] = Counter()
    for batch, events in _told(pages):
        least[batch] = max(least[batch], events)
        told[batch] += 1
    # A name that stands there only once may be one that damage has spelt.
    return {batch: events for batch, events in least.items() if told[batch] > 1}


def _told(pages: Pages) -> Iterator[tuple[str, int]]:
    for number, page in pages.items():
        for row in rows_of(page, number, pages):
            yield from _of_row(row)
        for row in records_of(page, number):
            yield from _of_index(row)


def _of_row(row: list[Value]) -> Iterator[tuple[str, int]]:
    """A row of the batches, the news, the events or the summaries."""
    match row:
        case [str(batch), int(seq)] if 0 <= seq < _MANY:
            yield batch, seq + 1
        case [str(batch), int(seq), str(at), str(), str(), *_] if at[4:5] == "-":
            if 0 <= seq < _MANY:
                yield batch, seq + 1
        case [str(batch), int(events), str(begun), *rest] if len(rest) in (8, 9):
            if 0 < events < _MANY and begun[4:5] == "-":
                yield batch, events
        case [str(batch), str(), str(begun)] if begun[4:5] == "-":
            yield batch, 1


def _of_index(row: list[Value]) -> Iterator[tuple[str, int]]:
    """An entry of the index by batch and place, or by batch alone."""
    match row:
        case [str(batch), int(seq), int()] if 0 <= seq < _MANY:
            yield batch, seq + 1


def missing(pages: Pages) -> int:
    """How many pages the file lacks at its end, as far as its first page tells."""
    first = pages.get(1, b"")
    if first[:16] != b"SQLite format 3\0":
        return 0
    should = int(struct.unpack(">I", first[28:32])[0])
    return max(0, should - len(pages)) if should < 2**31 else 0


def unreadable(pages: Pages) -> list[int]:
    """The pages that a tree points to and that are no pages of a tree any more."""
    pointed = {child for number, page in pages.items() for child in _children(page, number)}
    return sorted(n for n in pointed if n in pages and pages[n][0] not in _TREE)


def _children(page: bytes, number: int) -> Iterator[int]:
    start = 100 if number == 1 else 0
    if len(page) < start + 12 or page[start] not in (0x02, 0x05):
        return
    yield struct.unpack(">I", page[start + 8 : start + 12])[0]
    many = struct.unpack(">H", page[start + 3 : start + 5])[0]
    for place in range(start + 12, min(start + 12 + 2 * many, len(page) - 1), 2):
        cell = struct.unpack(">H", page[place : place + 2])[0]
        if cell + 4 <= len(page):
            yield struct.unpack(">I", page[cell : cell + 4])[0]
