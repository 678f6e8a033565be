"""Whether a store's file is whole without the log beside it, as far as the file can tell.

While somebody may write, the newest turns stand in the log only. The file says so from the first
turn on, and no longer when it was closed in good order. So a file that says so and has no log was
copied without it, or lost it; and a log that tells of another store, or of fewer turns than the
file has, is not this file's log.
"""

import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, Engine, select, update
from sqlalchemy.exc import SQLAlchemyError

from assistant.keep import schema
from assistant.keep.carve import rows_of
from assistant.keep.wal import Log, log_beside, read_log

_AGAIN = (0.0, 0.1, 0.3)
"""Another program may be closing the store while we look. [s]"""
_UNMARKED = 20
"""So many turns may stand in the log before the file says that it is in use: a reader can hold the
first checkpoint up."""
_table = schema.standing.c


@dataclass(frozen=True)
class Standing:
    """What a store says of itself.

    id : which store it is; turns : how often it was written to; open : whether somebody may write
    root : the page it stands on
    """

    id: str
    turns: int
    open: bool
    root: int = 0


def suspicion(database: Path) -> str | None:
    """Why a file and its log don't belong together, as the end of a sentence; None if they may."""
    why = None
    for pause in _AGAIN:
        time.sleep(pause)
        why = _suspicion(database)
        if why is None:
            return None
    return why


def _suspicion(database: Path) -> str | None:
    held = _in_the_file(database)
    if held is None:
        return None
    log = log_beside(database)
    if not log.exists() or log.stat().st_size == 0:
        words = f"was in use when it lost its log, {log.name}: its last turns may be missing"
        return words if held.open else None
    found = _in_the_log(log, held)
    return None if _fits(held, found) else f"has a log, {log.name}, that is not its own"


def _fits(held: Standing, found: Standing | None) -> bool:
    if found is None:
        return True
    if found.id != held.id or found.turns < held.turns:
        return False
    return held.open or found.turns <= held.turns + _UNMARKED


def _in_the_file(database: Path) -> Standing | None:
    """What the file says without its log; None where it says nothing that can be read."""
    where = f"{database.resolve().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(where, uri=True)) as base:
            wanted = "SELECT rootpage FROM sqlite_master WHERE name = 'standing'"
            root = base.execute(wanted).fetchone()
            row = base.execute("SELECT id, turns, open FROM standing").fetchone()
    except sqlite3.Error:
        return None
    return Standing(row[0], row[1], bool(row[2]), root[0]) if row and root else None


def _in_the_log(log: Path, held: Standing) -> Standing | None:
    """What the log says, where a turn stands in it."""
    try:
        found: Log = read_log(log.read_bytes())
    except OSError:
        return None
    if held.root not in found.pages:
        return None
    page = found.pages[held.root]
    return next(_standings(page, held.root), Standing("", -1, False))


def _standings(page: bytes, number: int) -> Iterator[Standing]:
    for row in rows_of(page, number, {number: page}):
        if len(row) == 3 and isinstance(row[0], str) and isinstance(row[1], int):
            yield Standing(row[0], row[1], bool(row[2]))


def note_turn(connection: Connection) -> bool:
    """Count a turn, in its own transaction; whether the file did not say before that it is in use.

    A server has no log that can be lost.
    """
    if connection.dialect.name != "sqlite":
        return False
    was_open = connection.scalar(select(_table.open))
    connection.execute(update(schema.standing).values(turns=_table.turns + 1, open=1))
    return not was_open


def bring_in(engine: Engine) -> bool:
    """Bring what the log holds into the file, waiting for nobody; whether all of it was."""
    try:
        with closing(engine.raw_connection()) as connection:
            cursor = connection.cursor()
            busy, there, brought = cursor.execute("PRAGMA wal_checkpoint(PASSIVE)").fetchone()
            cursor.close()
    except sqlite3.Error:
        return False  # A full disk, for example: what is in the log is on the disk all the same.
    return not busy and bool(there == brought)


def close(engine: Engine) -> None:
    """Let the file say that it is whole without its log, as it will be, and let go of it."""
    if engine.dialect.name == "sqlite":
        # A full disk, a damaged file, somebody else at work: then it stays as it is.
        with suppress(SQLAlchemyError, sqlite3.Error):
            _say_closed(engine)
    engine.dispose()


def _say_closed(engine: Engine) -> None:
    with closing(engine.raw_connection()) as connection:
        cursor = connection.cursor()
        for statement in ("PRAGMA busy_timeout=0", "SELECT open FROM standing"):
            answer = cursor.execute(statement).fetchone()
        if answer == (1,):
            cursor.execute("UPDATE standing SET open = 0")
        cursor.close()


def say_closed(file: Path) -> None:
    """The same for a copy that was made whole, which is a store of its own from now on."""
    row = schema.new_standing()
    with closing(sqlite3.connect(file)) as made:
        tables = made.execute("SELECT name FROM sqlite_master WHERE name = 'standing'").fetchall()
        if tables:
            made.execute("UPDATE standing SET id = ?, open = 0", (row["id"],))
            made.commit()
        made.execute("PRAGMA journal_mode=DELETE").close()
