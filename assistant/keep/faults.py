"""What a database complains of, told as one sentence with what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError, SQLAlchemyError

from assistant.base.errors import StoreAway, StoreReadOnly, StoreUnusable

ELSEWHERE = "or set PANSIDE_STORE to another place"
MEND = (
    "leave it as it is; `panside restore BACKUP --replace` puts a backup in its place,"
    " `panside salvage` saves what can still be read"
)
REUNITE = (
    "close Panside where the store comes from and copy it again with the file ending in -wal beside"
    " it, if there is one, or use `panside backup`"
)
_DAMAGED = f"{{store}} is damaged or no Panside journal; {MEND}"
_SQLITE = {
    sqlite3.SQLITE_BUSY: "another program is holding {store}; close it and try again",
    sqlite3.SQLITE_LOCKED: "another program is holding {store}; close it and try again",
    sqlite3.SQLITE_READONLY: f"{{store}} can only be read; make it writable, {ELSEWHERE}",
    sqlite3.SQLITE_IOERR: f"the disk of {{store}} reports a fault; check it, {ELSEWHERE}",
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_FULL: f"the disk of {{store}} is full; make some room, {ELSEWHERE}",
    sqlite3.SQLITE_CANTOPEN: f"{{store}} can't be opened; check that its folder exists "
    f"and that you may write there, {ELSEWHERE}",
    sqlite3.SQLITE_NOTADB: _DAMAGED,
}
"""By the primary result code (sqlite.org, "Result and Error Codes")."""


@contextmanager
def translated(store: str) -> Iterator[None]:
    """Turns what the database raises into StoreUnusable with a sentence about that store."""
    try:
        yield
    except DBAPIError as error:
        raise _kind(error)(_sentence(error.orig or error, store)) from error
    except sqlite3.Error as error:
        raise StoreUnusable(_sentence(error, store)) from error
    except (ArgumentError, NoSuchModuleError) as error:
        raise StoreUnusable(
            f"{store} is no address of a journal; give a file's path, "
            "or a URL such as postgresql://user@host/name"
        ) from error
    except ModuleNotFoundError as error:
        raise StoreUnusable(
            f"{store} needs the Python package {error.name}; "
            "install Panside with its postgres extra: pip install 'panside[postgres]'"
        ) from error
    except SQLAlchemyError as error:
        raise StoreUnusable(f"{store} can't be used: {_first_line(error)}") from error


def _kind(error: DBAPIError) -> type[StoreUnusable]:
    if getattr(error.orig, "sqlstate", None) == _READ_ONLY:
        return StoreReadOnly
    return StoreAway if _is_away(error) else StoreUnusable


_READ_ONLY = "25006"


def _is_away(error: DBAPIError) -> bool:
    """Whether a server was not reached, was lost, or stalls (PostgreSQL, appendix A)."""
    if isinstance(error.orig, sqlite3.Error):
        return False
    state = getattr(error.orig, "sqlstate", None)
    if state is not None:
        return state in _STALLED or state.startswith(("08", "57P", "53"))
    if error.connection_invalidated:
        return True
    return type(error.orig).__name__ in _UNREACHED and not _is_refused(error.orig)


_STALLED = ("25P03", "55P03", "57014")
"""Idle in a transaction, waited for a lock, took too long: each ended by a timeout of ours."""
_NO_TLS = "does not support SSL"
_UNREACHED = ("OperationalError", "ConnectionTimeout")
_LATER = ("starting up", "shutting down", "recovery", "too many", "connection slots", "terminat")
"""What a server that answers may refuse today and not tomorrow; it has no state code then."""


def _is_refused(error: BaseException | None) -> bool:
    """Whether a server answered and would not let us in: a wrong password, name or database."""
    words = str(error)
    if _NO_TLS in words:
        return True
    unnamed = bool(getattr(getattr(error, "pgconn", None), "needs_password", False))
    return unnamed or ("FATAL" in words and not any(later in words for later in _LATER))


def _sentence(error: BaseException, store: str) -> str:
    code = getattr(error, "sqlite_errorcode", None)
    words = None if code is None else _SQLITE.get(code & 0xFF)
    if words is not None:
        return words.format(store=store)
    if isinstance(error, sqlite3.Error):
        if "decode to UTF-8" in str(error):
            return _DAMAGED.format(store=store)
        return f"{store} can't be used ({_first_line(error)}); check the file, {ELSEWHERE}"
    if _NO_TLS in str(error):
        return (
            f"{store} offers no TLS, and it is on another computer; set it up there (PostgreSQL,"
            ' "Secure TCP/IP Connections with SSL"), or add sslmode=disable to the address on a'
            " network that you trust"
        )
    if _is_refused(error):
        return (
            f"{store} does not let this kitchen in ({_first_line(error)}); "
            "check the user, the password and the database's name"
        )
    if getattr(error, "sqlstate", None) == _READ_ONLY:
        return f"{store} can only be read now: it is a replica, or is still being put back"
    if getattr(error, "sqlstate", None) == "42501":
        return (
            f"this login may not do that in {store} ({_first_line(error)}); "
            "`panside store check` tells what it may"
        )
    return (
        f"{store} can't be used ({_first_line(error)}); "
        "check that the database is running and its address is right"
    )


def _first_line(error: BaseException) -> str:
    return next((line.strip() for line in str(error).splitlines() if line.strip()), "no reason")
