"""Backups of a server by its own tools, a note of each, and drills that prove one.

A base backup is a copy of the server's files as of one moment; the log that it archives from then
on holds all that came later. (PostgreSQL, "Continuous Archiving and Point-in-Time Recovery".)
A folder of backups holds `base-TIME/` for each base backup, and `log/`, which the server's
archive_command fills.
"""

import shlex
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import URL, Connection, text

from assistant.base.errors import WrongUse
from assistant.keep import opening
from assistant.keep.faults import translated
from assistant.keep.patience import unhurried
from assistant.keep.server_tools import (
    connection_words,
    give_to_server,
    program,
    run,
    server_user,
)

LOG = "log"
_BASE = "base-"
FRESH_H = 24
"""A base backup counts as fresh for so long. [h] (common practice, no source)"""
_NOTES = (
    "CREATE TABLE IF NOT EXISTS server_backups (at timestamptz PRIMARY KEY DEFAULT now(),"
    " place text NOT NULL, batches bigint NOT NULL, events bigint NOT NULL,"
    " archived boolean NOT NULL)"
)
"""Beside the journal and of no layout, so that it is there before any step to a newer one."""


@dataclass(frozen=True)
class Based:
    """A base backup that was made and verified.

    folder : where it is
    batches, events : what the store held when it began
    archived : whether the server archives its log, so that what comes later is kept too
    """

    folder: Path
    batches: int
    events: int
    archived: bool


def back_up_server(url: URL, folder: Path, now: datetime) -> Based:
    """Copy a whole server into a new folder there, verify it, and note it on the server.

    url : the owner's login, who must be allowed to copy the server (the attribute REPLICATION)
    """
    _a_server(url)
    if not folder.is_dir():
        raise WrongUse(f"{folder} is no folder; make one that the server's log goes to as well.")
    target = folder.resolve() / f"{_BASE}{now:%Y-%m-%dT%H%M%S}"
    if target.exists():
        raise WrongUse(f"{target} is there already; wait a second.")
    store = opening.shown(url)
    with unhurried(), opening.server_engine(url) as engine, translated(store):
        with engine.begin() as connection:
            _unhurried(connection)
            connection.execute(text(_NOTES))
            held = _held(connection)
            archived = _archives(connection)
            major = _major(connection)
        copy = [program("pg_basebackup", major), "-d", connection_words(url)]
        copy += ["-D", str(target), "--checkpoint=fast", "--wal-method=stream", "--no-password"]
        run(copy, password=url.password)
        run([program("pg_verifybackup", major), "--quiet", str(target)])
        with engine.begin() as connection:
            note = "INSERT INTO server_backups (place, batches, events, archived)"
            values = {"p": str(target), "b": held[0], "e": held[1], "a": archived}
            connection.execute(text(f"{note} VALUES (:p, :b, :e, :a)"), values)
    return Based(target, *held, archived)


def _a_server(url: URL) -> None:
    if url.get_backend_name() != "postgresql":
        raise WrongUse(f"{opening.shown(url)} is a file: `panside backup` copies it.")


def _unhurried(connection: Connection) -> None:
    connection.execute(text("SET LOCAL statement_timeout = 0"))


def _held(connection: Connection) -> tuple[int, int]:
    wanted = text("SELECT (SELECT count(*) FROM batches), (SELECT count(*) FROM events)")
    batches, events = connection.execute(wanted).one()
    return int(batches), int(events)


def _archives(connection: Connection) -> bool:
    """Whether the log is archived, and the last attempt did not fail."""
    if connection.scalar(text("SHOW archive_mode")) == "off":
        return False
    wanted = text(
        "SELECT last_failed_time IS NULL OR last_archived_time > last_failed_time"
        " FROM pg_stat_archiver"
    )
    return bool(connection.scalar(wanted))


def _major(connection: Connection) -> int:
    return int(connection.scalar(text("SHOW server_version_num")) or 0) // 10_000


def why_not_fresh(connection: Connection) -> str | None:
    """Why a server's layout must not be changed now, as the end of a sentence; None if it may.

    A backup must be of the last day, and where the server keeps no log of what came after it,
    nothing may have come.
    """
    batches, events = _held(connection)
    if not batches:
        return None
    if connection.scalar(text("SELECT to_regclass('server_backups')")) is None:
        return "no backup of it was ever noted"
    wanted = text(
        "SELECT at > now() - make_interval(hours => :hours) AS fresh, events, archived, at"
        " FROM server_backups ORDER BY at DESC LIMIT 1"
    )
    last = connection.execute(wanted, {"hours": FRESH_H}).first()
    if last is None:
        return "no backup of it was ever noted"
    if not last.fresh:
        return f"its last backup is of {last.at:%-d %B %Y, %H:%M}"
    if not last.archived and last.events != events:
        return f"{events - last.events} entries came after its last backup, and no log is archived"
    return None


def bases(folder: Path) -> list[Path]:
    """The base backups in a folder, the newest last."""
    return sorted(path for path in folder.resolve().glob(f"{_BASE}*") if path.is_dir())


def put_back(folder: Path, data: Path, base: str | None = None) -> Path:
    """Make a server's data folder from a base backup; started, it takes in the archived log.

    folder : a folder of backups; base : which one by name, the newest without
    data : a new folder; which base backup was taken is given back
    Raises WrongUse where there is none, StoreUnusable where it is not as it was made.
    """
    there = [path for path in bases(folder) if base is None or path.name == base]
    if not there:
        raise WrongUse(f"{folder} holds no base backup that `panside store backup` made.")
    if data.exists():
        raise WrongUse(f"{data} is there already; give another name.")
    taken = there[-1]
    run([program("pg_verifybackup", major_of(taken)), "--quiet", str(taken)])
    try:
        shutil.copytree(taken, data, symlinks=True)
    except (OSError, shutil.Error) as error:
        raise WrongUse(f"{data} can't be written ({error}).") from error
    data.chmod(0o700)
    log = folder.resolve() / LOG
    if log.is_dir():
        fetch = f"cp {shlex.quote(str(log))}/%f %p".replace("'", "''")
        with (data / "postgresql.auto.conf").open("a", encoding="utf-8") as settings:
            settings.write(f"restore_command = '{fetch}'\n")
        (data / "recovery.signal").touch()
    give_to_server(data)
    return taken


def major_of(data: Path) -> int:
    """The version of the server whose files these are; WrongUse where they are none."""
    try:
        return int((data / "PG_VERSION").read_text("utf-8"))
    except (OSError, ValueError) as error:
        raise WrongUse(f"{data} holds no server's files.") from error


@contextmanager
def trial_server(folder: Path, base: str | None = None) -> Iterator[tuple[Path, Path]]:
    """A backup put back and started aside, for nobody but this user; thrown away in the end.

    Gives the folder of its socket, and the base backup that was taken.
    """
    with TemporaryDirectory(prefix="panside-drill-") as scratch:
        place = Path(scratch)
        data = place / "data"
        taken = put_back(folder, data, base)
        (data / "pg_hba.conf").write_text("local all all trust\n", "utf-8")
        give_to_server(place)
        settings = {
            "listen_addresses": "",
            "unix_socket_directories": scratch,
            "archive_mode": "off",
            "fsync": "off",
            "ssl": "off",
            "shared_preload_libraries": "",
        }
        words = " ".join(f"-c {name}={shlex.quote(value)}" for name, value in settings.items())
        words += f" -c hba_file={data / 'pg_hba.conf'}"
        control = [program("pg_ctl", major_of(data)), "-D", str(data), "-w", "-t", "3600"]
        log = ["-l", str(place / "server.log"), "-o", words]
        try:
            run([*control, *log, "start"], server_user())
            yield place, taken
        finally:
            if (data / "postmaster.pid").exists():
                run([*control, "-m", "immediate", "stop"], server_user())
