"""Reading a store where nothing can be written: a full disk, a read-only one, somebody else's file.

SQLite wants to write even to read: a log, and a file by which programs share it. Where it can't,
the file is opened as one that nobody changes, or, with a log beside it, copied elsewhere first.
"""

import shutil
import sqlite3
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from weakref import finalize

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError

from assistant.base.errors import StoreUnusable
from assistant.keep.wal import log_beside

_UNWRITABLE = (
    sqlite3.SQLITE_PERM,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_CANTOPEN,
)


def is_unwritable(error: StoreUnusable) -> bool:
    """Whether a store could not be opened because something could not be written."""
    code = getattr(getattr(error.__cause__, "orig", None), "sqlite_errorcode", None)
    return code is not None and code & 0xFF in _UNWRITABLE


def reading_engine(file: Path) -> Engine | None:
    """A connected engine that only reads a file, where it lies; None where SQLite can't."""
    log = log_beside(file)
    ways: list[dict[str, str]] = [{}]
    if not log.exists() or log.stat().st_size == 0:
        ways.append({"immutable": "1"})
    for way in ways:
        query = {"mode": "ro", "uri": "true", **way}
        url = URL.create("sqlite", database=file.resolve().as_uri(), query=query)
        engine = create_engine(url)
        _only_read(engine)
        try:
            with engine.connect() as connection:
                connection.exec_driver_sql("SELECT count(*) FROM sqlite_master")
        except DBAPIError:
            engine.dispose()
        else:
            return engine
    return None


def copy_elsewhere(file: Path) -> tuple[Path, TemporaryDirectory[str]]:
    """A copy of a file and its log among the temporary files, and the folder that it lies in."""
    folder = TemporaryDirectory(prefix="panside-")
    copy = Path(folder.name) / file.name
    shutil.copy(file, copy)
    if log_beside(file).exists():
        shutil.copy(log_beside(file), log_beside(copy))
    return copy, folder


def keep_from_writing(engine: Engine, folder: TemporaryDirectory[str]) -> None:
    """Let the copy that an engine has open only be read, and throw it away with the engine."""
    engine.dispose()
    event.listen(engine, "connect", _query_only)
    finalize(engine, folder.cleanup)


def _query_only(connection: Any, _record: object) -> None:
    connection.execute("PRAGMA query_only=ON").close()


def _only_read(engine: Engine) -> None:
    def begin_ourselves(connection: Any, _record: object) -> None:
        connection.isolation_level = None

    def begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN")

    event.listen(engine, "connect", begin_ourselves)
    event.listen(engine, "begin", begin)
