"""Kitchens through a connection pooler: whether turns, leases and news go through it.

    python -m tests.bench.pooled [--kitchens 20] [--turns 30] [--mode session]

A server and a PgBouncer before it (the package pgbouncer), thrown away in the end. Each kitchen
writes its own batch, holds its lease, and one of them listens to all. Printed: what a turn takes
with and without the pooler, how many connections the server has, and how many of the others' words
the listener heard of. Nothing is asserted.
"""

import argparse
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1] / "keep"))

from event_makers import AT, begin, reading
from postgres_server import Server, running_server

from assistant.base.errors import PansideError
from assistant.keep import Journal, SharedJournal, Watch
from assistant.past.joining import may_join

PORT = 6432


@contextmanager
def pooler(server: Server, folder: Path, mode: str) -> Iterator[str]:
    """A PgBouncer on a socket of its own; the folder of that socket."""
    program = shutil.which("pgbouncer") or shutil.which("pgbouncer", path="/usr/sbin")
    if program is None:
        sys.exit("there is no pgbouncer on this machine")
    kept = {
        "listen_port": PORT, "unix_socket_dir": folder, "auth_type": "any", "pool_mode": mode,
        "default_pool_size": 60, "max_client_conn": 500, "logfile": folder / "pooler.log",
        "pidfile": folder / "pooler.pid", "ignore_startup_parameters": "options,extra_float_digits",
    }  # fmt: skip
    lines = [f"{name} = {value}" for name, value in kept.items()]
    databases = f"[databases]\n* = host={server.folder} user=cook\n[pgbouncer]\n"
    (folder / "pooler.ini").write_text(databases + "\n".join(lines) + "\n", "utf-8")
    if server.owner is not None:
        shutil.chown(folder, server.owner)
    running = subprocess.Popen([program, "-q", str(folder / "pooler.ini")], user=server.owner)
    time.sleep(1.5)
    try:
        yield str(folder)
    finally:
        running.terminate()
        running.wait()


class Kitchen(threading.Thread):
    """One kitchen that writes a batch of its own."""

    def __init__(self, number: int, store: str, folder: Path, turns: int) -> None:
        super().__init__()
        self.name, self._turns = f"2026-07-04-{number}-pool{number}", turns
        self._told: list[str] = []
        self.journal = SharedJournal(
            store, folder / f"{number}.sqlite", may_join, self._told.append
        )
        self.waits: list[float] = []
        self.fault = ""

    def run(self) -> None:
        try:
            self.journal.append(self.name, begin(self.name), 0)
            self.journal.acquire(self.name, AT, AT + timedelta(hours=1))
            for number in range(1, self._turns):
                began = time.perf_counter()
                self.journal.append(self.name, reading(number), number)
                self.waits.append(time.perf_counter() - began)
        except PansideError as error:
            self.fault = str(error)
        self.fault = self.fault or " ".join(self._told)


def tried(what: str, store: str, server: Server, folder: Path, count: int, turns: int) -> None:
    folder.mkdir()
    with Journal(store) as ear:
        watch, heard = Watch(ear), 0
        watch.anything()
        kitchens = [Kitchen(n, store, folder, turns) for n in range(count)]
        for kitchen in kitchens:
            kitchen.start()
        most = 0
        while any(kitchen.is_alive() for kitchen in kitchens):
            heard += watch.anything()
            with server.talk() as owner:
                row = owner.execute("SELECT count(*) FROM pg_stat_activity WHERE datname ~ 'kitch'")
                most = max(most, row.fetchone()[0])
            time.sleep(0.2)
        time.sleep(0.5)
        heard += watch.anything()
        watch.close()
        held = len(ear.names())
    waits = sorted(wait for kitchen in kitchens for wait in kitchen.waits)
    print(f"{what}: {count} kitchens, {len(waits)} turns, median"
          f" {1000 * statistics.median(waits):.0f} ms, slowest {waits[-1]:.2f} s; server's"
          f" connections {most}; news at {heard} looks; {held} batches", flush=True)  # fmt: skip
    for fault in {kitchen.fault for kitchen in kitchens if kitchen.fault}:
        print(f"  {fault[:300]}")
    for kitchen in kitchens:
        kitchen.journal.close()


def main() -> None:
    """Straight, then through the pooler."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("--kitchens", type=int, default=20)
    words.add_argument("--turns", type=int, default=30)
    words.add_argument("--mode", choices=("session", "transaction"), default="session")
    chosen = words.parse_args()
    with (
        running_server(" -c max_connections=120") as server,
        tempfile.TemporaryDirectory() as scratch,
    ):
        folder = Path(scratch)
        folder.chmod(0o755)
        pool = folder / "pool"
        pool.mkdir()
        tried("straight", server.database(), server, folder / "a", chosen.kitchens, chosen.turns)
        with pooler(server, pool, chosen.mode) as socket:
            name = server.database().split("@/")[1].split("?")[0]
            store = f"postgresql://cook@/{name}?host={socket}&port={PORT}"
            what = f"through PgBouncer, {chosen.mode} mode"
            tried(what, store, server, folder / "b", chosen.kitchens, chosen.turns)


if __name__ == "__main__":
    main()
