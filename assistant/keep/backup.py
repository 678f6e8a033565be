"""Backups of a whole store: made, proven, put back, and what to save where there is none."""

import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from itertools import count as numbers
from pathlib import Path

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.keep import opening
from assistant.keep.carve import Carved, Pages, carve, pages_of
from assistant.keep.copying import put_in_place, sync_folder
from assistant.keep.faults import MEND, translated
from assistant.keep.journal import Journal
from assistant.keep.known import expected, missing, unreadable
from assistant.keep.standing import say_closed
from assistant.keep.whole import (
    Count,
    Counting,
    Row,
    checked,
    count,
    from_text,
    read_all,
    to_text,
    write_all,
)

LINES = ".jsonl"
_SQLITE = b"SQLite format 3\0"
_TAILS = ("-wal", "-shm", "-journal", "")


@dataclass(frozen=True)
class Salvaged:
    """What could be saved.

    batches : id to events saved
    rest : events behind a gap of their batch, which a batch can't go on with
    lost : batch to how many events are known to be gone
    torn : pages of the file that are missing at its end or can't be read
    """

    batches: dict[str, int]
    rest: tuple[Carved, ...]
    lost: dict[str, int]
    torn: int = 0


def back_up(journal: Journal, target: Path) -> Count:
    """Copy a store into a file that is not there yet, read it back, and tell how much it is.

    target : JSON Lines where it ends in .jsonl, else a SQLite file
    Raises WrongUse when the file is there, StoreUnusable when the store or the copy is damaged.
    """
    if target.exists():
        raise WrongUse(f"{target} is there already; give another name.")
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    try:
        with _disk(target):
            had = _write(journal, part, target.suffix == LINES)
            with backup_rows(part) as rows:
                if count(rows()) != had:
                    raise StoreUnusable(f"{target} did not come out the same; try another disk.")
            put_in_place(part, target)
    finally:
        part.unlink(missing_ok=True)
    return had


def _write(journal: Journal, part: Path, lines: bool) -> Count:
    file = file_of(journal)
    if file is not None and not lines:
        return _copy(file, part)
    rows = Counting(read_all(journal))
    if lines:
        with part.open("w", encoding="utf-8", newline="\n") as text:
            text.writelines(to_text(rows))
        return rows.count
    with Journal(part) as copy:
        write_all(copy, rows)
    say_closed(part)
    return rows.count


def file_of(journal: Journal) -> Path | None:
    """The file a store is in; None for a server, for memory, and where it can only be read."""
    url = journal.engine.url
    if url.get_backend_name() != "sqlite" or url.database != journal.store:
        return None
    return Path(journal.store) if Path(journal.store).is_file() else None


def _copy(file: Path, part: Path) -> Count:
    """SQLite's own online copy, and how much the store held at that very moment."""
    with translated(str(file)), closing(sqlite3.connect(file, isolation_level=None)) as had:
        had.execute("BEGIN")
        held = count(_rows_of(had, str(file)))
        with closing(sqlite3.connect(part)) as made:
            had.backup(made)
    say_closed(part)
    return held


@contextmanager
def backup_rows(file: Path) -> Iterator[Callable[[], Iterator[Row]]]:
    """The rows of a backup of either kind, or of a store as of this moment, as often as they are
    asked for; WrongUse or StoreUnusable where it is not whole."""
    try:
        with file.open("rb") as opened:
            start = opened.read(len(_SQLITE))
    except OSError as error:
        raise WrongUse(f"{file} can't be read ({error.strerror}).") from error
    if start != _SQLITE:
        yield lambda: _rows_of_text(file)
        return
    opening.check_log(file)
    where = f"{file.resolve().as_uri()}?mode=ro"
    with (
        translated(str(file)),
        closing(sqlite3.connect(where, uri=True, isolation_level=None)) as base,
    ):
        # Somebody may be at work on it: both looks see the same moment.
        base.execute("BEGIN")
        if base.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
            raise StoreUnusable(f"{file} is damaged; {MEND}")
        yield lambda: _rows_of(base, str(file))


def _rows_of_text(file: Path) -> Iterator[Row]:
    with file.open(encoding="utf-8") as lines, _as_text(file):
        yield from from_text(lines, file.name)


def _rows_of(base: sqlite3.Connection, store: str) -> Iterator[Row]:
    columns = {row[1] for row in base.execute("PRAGMA table_info(events)")}
    if not columns:
        raise WrongUse(f"{store} is no Panside store.")
    sealed = "seal" if "seal" in columns else "NULL"
    wanted = f"SELECT batch, seq, at, kind, body, {sealed} FROM events ORDER BY batch, seq"
    return checked(base.execute(wanted), store, unsealed="chain" not in columns)


def restore(file: Path, journal: Journal) -> Count:
    """Put a backup into an empty store, read it back, and tell how much it is."""
    with backup_rows(file) as rows:
        had = count(rows())
        write_all(journal, rows())
    if count(read_all(journal)) != had:
        raise StoreUnusable(f"{journal.store} did not come out the same as {file}; check the disk.")
    return had


def set_aside(file: Path) -> Path:
    """Give a store's file, and its log, another name; StoreUnusable while a program has it open."""
    aside = next(n for n in _names(file) if not any(_tail(n, tail).exists() for tail in _TAILS))
    try:
        with closing(sqlite3.connect(file, timeout=0.5)) as base:
            base.execute("PRAGMA journal_mode=DELETE").close()
        say_closed(file)
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            raise StoreUnusable(f"another program is holding {file}; close it first") from error
    except sqlite3.Error:
        pass  # Damaged: it is set aside as it is, log and all.
    for tail in _TAILS:
        if _tail(file, tail).exists():
            _tail(file, tail).rename(_tail(aside, tail))
    sync_folder(file.resolve().parent)
    return aside


def _names(file: Path) -> Iterator[Path]:
    return (file.with_name(f"{file.name}.aside-{number}") for number in numbers(1))


def _tail(file: Path, tail: str) -> Path:
    return file.with_name(file.name + tail)


def salvage(file: Path, target: Path) -> Salvaged:
    """Read what can be read of a damaged file into a new store; the file is not touched.

    Raises WrongUse when the target is there or nothing at all was found.
    """
    if target.exists():
        raise WrongUse(f"{target} is there already; give another name.")
    pages = _pages(file)
    found = _found(pages)
    if not found:
        raise WrongUse(f"{file} holds no event that can be read.")
    least = {b: max(found[b]) + 1 for b in found}
    for batch, events in expected(pages).items():
        least[batch] = max(events, least.get(batch, 0))
    whole = {b: next(n for n in numbers() if n not in found[b]) for b in sorted(found)}
    with Journal(target) as journal:
        write_all(journal, (Row(**vars(found[b][n])) for b in whole for n in range(whole[b])))
    return Salvaged(
        batches={b: many for b, many in whole.items() if many},
        rest=tuple(found[b][n] for b in whole for n in sorted(found[b]) if n > whole[b]),
        lost={b: n for b in sorted(least) if (n := least[b] - len(found.get(b, ())))},
        torn=missing(pages) + len(unreadable(pages)),
    )


def _pages(file: Path) -> Pages:
    try:
        data = file.read_bytes()
        log = _tail(file, "-wal")
        beside = log.read_bytes() if log.exists() else b""
    except OSError as error:
        raise WrongUse(f"{file} can't be read ({error.strerror}).") from error
    return pages_of(data, beside)


def _found(pages: Pages) -> dict[str, dict[int, Carved]]:
    found: dict[str, dict[int, Carved]] = defaultdict(dict)
    for event in carve(pages):
        found[event.batch].setdefault(event.seq, event)
    return found


@contextmanager
def _disk(target: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise WrongUse(f"{target} can't be written ({error.strerror}).") from error


@contextmanager
def _as_text(file: Path) -> Iterator[None]:
    try:
        yield
    except UnicodeDecodeError as error:
        raise WrongUse(f"{file} is neither a SQLite file nor text in UTF-8.") from error
