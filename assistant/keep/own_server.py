"""A PostgreSQL server in a folder of one's own: made, started and stopped by Panside itself.

It listens on a socket in that folder, which nobody but its user can reach, so that it needs no
password; it archives its log beside itself, where `panside store backup` puts base backups too.
"""

import shlex
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import URL, text

from assistant.base.errors import SomethingMissing, StoreUnusable, WrongUse
from assistant.keep import opening
from assistant.keep.faults import translated
from assistant.keep.journal import Journal
from assistant.keep.roles import prepare
from assistant.keep.server_backup import LOG, major_of
from assistant.keep.server_tools import (
    give_to_server,
    newest_server,
    program,
    run,
    server_user,
)

OWNER, KITCHEN, DATABASE = "owner", "kitchen", "larder"
_LONGEST_SOCKET = 90
"""A socket's path must fit into 107 bytes (Linux, unix(7)); its name takes some."""


@contextmanager
def own_server(folder: Path) -> Iterator[tuple[str, str]]:
    """Start the server in a folder, made where it is missing; stopped in good order in the end.

    Gives the owner's address and a kitchen's, which may append and look.
    """
    folder = folder.resolve()
    if len(str(folder)) > _LONGEST_SOCKET:
        raise WrongUse(f"{folder} is too long for a socket's path; take a shorter one.")
    data = folder / "data"
    if not (data / "PG_VERSION").exists():
        _make(folder, data)
    control = [program("pg_ctl", major_of(data)), "-D", str(data), "-w", "-t", "300"]
    log = ["-l", str(folder / "server.log"), "-o", _settings(folder)]
    try:
        run([*control, *log, "start"], server_user())
    except StoreUnusable as error:
        raise StoreUnusable(
            f"the server in {folder} does not start; server.log there tells why"
        ) from error
    try:
        owner, kitchen = (_address(folder, user, DATABASE) for user in (OWNER, KITCHEN))
        _prepare(folder, owner)
        yield opening.shown(owner), opening.shown(kitchen)
    finally:
        run([*control, "-m", "fast", "stop"], server_user())


def _make(folder: Path, data: Path) -> None:
    major = newest_server()
    if major is None:
        raise SomethingMissing(
            "there is no PostgreSQL server on this computer; install it (the package postgresql on"
            " Debian), it need not be started"
        )
    if folder.exists() and any(folder.iterdir()):
        raise WrongUse(f"{folder} holds something else; give a new folder.")
    (folder / "backups" / LOG).mkdir(parents=True)
    folder.chmod(0o700)
    give_to_server(folder)
    words = ["-U", OWNER, "-A", "trust", "-E", "UTF8", "--data-checksums"]
    try:
        run([program("initdb", major), "-D", str(data), *words], server_user())
    except StoreUnusable:
        shutil.rmtree(folder, ignore_errors=True)
        raise


def _settings(folder: Path) -> str:
    kept = folder / "backups" / LOG
    archive = f"test ! -f {shlex.quote(str(kept))}/%f && cp %p {shlex.quote(str(kept))}/%f"
    settings = {
        "listen_addresses": "",
        "unix_socket_directories": str(folder),
        "unix_socket_permissions": "0700",
        "archive_mode": "on",
        "archive_timeout": "60",
        "archive_command": archive,
    }
    return " ".join(f"-c {name}={shlex.quote(value)}" for name, value in settings.items())


def _address(folder: Path, user: str, database: str) -> URL:
    query = {"host": str(folder)}
    return URL.create("postgresql+psycopg", user, database=database, query=query)


def _prepare(folder: Path, owner: URL) -> None:
    first = _address(folder, OWNER, "postgres")
    with opening.server_engine(first) as engine, translated(opening.shown(first)):
        alone = engine.execution_options(isolation_level="AUTOCOMMIT")
        with alone.connect() as connection:
            there = "SELECT 1 FROM pg_database WHERE datname = :name"
            if connection.scalar(text(there), {"name": DATABASE}) is None:
                connection.execute(text(f"CREATE DATABASE {DATABASE} TEMPLATE template0"))
            there = "SELECT 1 FROM pg_roles WHERE rolname = :name"
            if connection.scalar(text(there), {"name": KITCHEN}) is None:
                connection.execute(text(f"CREATE ROLE {KITCHEN} LOGIN"))
    with Journal(opening.shown(owner)) as journal:
        prepare(journal, [KITCHEN])
