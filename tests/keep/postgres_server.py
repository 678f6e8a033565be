"""A PostgreSQL server of our own: started for tests, stopped and started again by them."""

import os
import pwd
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import pytest

if TYPE_CHECKING:
    from psycopg import Connection

QUICK = "-c fsync=off -c shared_buffers=16MB -c max_connections=30 -c autovacuum=off"
"""It is thrown away in the end, so that it need not survive the machine."""
_numbers = count(1)


@dataclass(frozen=True)
class Server:
    """A server on a socket in a folder."""

    folder: str
    control: str
    owner: str | None
    more: str = ""

    def start(self) -> None:
        """Start it, and wait until it answers."""
        options = f"-c listen_addresses='' -c unix_socket_directories={self.folder} {QUICK}"
        options += self.more
        self._control("-l", f"{self.folder}/log", "-o", options, "start")

    def stop(self) -> None:
        """Cut every session at once, as a power cut or an unplugged cable does."""
        self._control("-m", "immediate", "stop")

    @contextmanager
    def stalled(self) -> Iterator[None]:
        """Every process of it stands still, its connections open, until this ends."""
        main = int(Path(self.folder, "data", "postmaster.pid").read_text("utf-8").split()[0])
        stopped = [main, *_children(main)]
        for process in stopped:
            os.kill(process, signal.SIGSTOP)
        try:
            yield
        finally:
            for process in reversed(stopped):
                with suppress(ProcessLookupError):
                    os.kill(process, signal.SIGCONT)

    def ask_for_passwords(self, user: str) -> None:
        """From now on that user needs one, who is made here and has "pear"."""
        with self.talk() as c:
            c.execute(f"CREATE ROLE {user} LOGIN PASSWORD 'pear'")
        rules = Path(self.folder, "data", "pg_hba.conf")
        kept = rules.read_text("utf-8")
        rules.write_text(f"local all {user} scram-sha-256\n{kept}", "utf-8")
        with self.talk() as c:
            c.execute("SELECT pg_reload_conf()")

    def talk(self) -> "Connection[Any]":
        """A session of the server's owner, each statement by itself."""
        import psycopg

        return psycopg.connect(f"host={self.folder} user=cook dbname=postgres", autocommit=True)

    def _control(self, *words: str) -> None:
        run([self.control, "-D", f"{self.folder}/data", "-w", *words], self.owner)

    def address(self, name: str) -> str:
        """The URL of a database on it."""
        return f"postgresql://cook@/{name}?host={self.folder}"

    def database(self) -> str:
        """The URL of a new, empty database."""
        name = f"kitchen_{next(_numbers)}"
        with self.talk() as c:
            c.execute(f'CREATE DATABASE "{name}" TEMPLATE template0')
        return self.address(name)


def _children(process: int) -> list[int]:
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            fields = status.read_text("utf-8").rpartition(")")[2].split()
            if int(fields[1]) == process:
                found.append(int(status.parent.name))
    return found


def run(command: list[str], owner: str | None) -> None:
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, user=owner, cwd="/")


@contextmanager
def running_server(more: str = "", on_disk: bool = False) -> Iterator[Server]:
    """A server that is thrown away in the end.

    more : settings, as on its command line
    on_disk : on a disk, not in memory
    """
    initdb, control, owner = _program("initdb"), _program("pg_ctl"), _owner()
    folder = Path(tempfile.mkdtemp(prefix="panside-", dir=None if on_disk else _quick_disk()))
    try:
        if owner is not None:
            shutil.chown(folder, owner)
        words = ["-U", "cook", "-A", "trust", "-E", "UTF8", "--no-sync"]
        run([initdb, "-D", str(folder / "data"), *words], owner)
        server = Server(str(folder), control, owner, more)
        server.start()
        try:
            yield server
        finally:
            if (folder / "data" / "postmaster.pid").exists():
                server.stop()
    finally:
        shutil.rmtree(folder)


def _quick_disk() -> str | None:
    """Memory, where this machine lends some: hundreds of small databases are written."""
    shared = Path("/dev/shm")
    there = shared.is_dir() and os.access(shared, os.W_OK)
    return str(shared) if there and shutil.disk_usage(shared).free > 4e9 else None


def _program(name: str) -> str:
    installed = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    found = shutil.which(name) or (str(installed[-1]) if installed else None)
    return found or _missing(f"no PostgreSQL server on this machine ({name} is missing)")


def _owner() -> str | None:
    """The server refuses to run as root; then it runs as its own user."""
    if os.getuid() != 0:
        return None
    try:
        return pwd.getpwnam("postgres").pw_name
    except KeyError:
        _missing("PostgreSQL does not run as root and there is no user postgres")


def _missing(why: str) -> NoReturn:
    """Skipped on a user's machine, a failure where everything must run."""
    if os.environ.get("PANSIDE_TEST_ALL"):
        pytest.fail(why)
    pytest.skip(why)
