"""Five kitchens on one server that holds many batches: figures for a day of work.

    python -m tests.bench.growth [--batches 200000] [--seconds 60] [--pause 4] [--drill]

A server of its own is filled with whole batches (`tests.bench.store` makes them), then five real
`panside screen` commands work on it, each with eight live batches and four pages. Every kitchen
says something every few seconds (--pause), in turn on each of its batches, and the time is taken
from the word to the line that says it is written. Beside that, the questions of an office are
asked: larder, recall, report. Last, a base backup, and with --drill the drill of it. Numbers are
printed, nothing is asserted. The server keeps its promises (fsync), with 512 MB of buffers.
"""

import argparse
import asyncio
import os
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from tests.bench.page import ROOT, Line, begun, lines, used
from tests.bench.store import LAST_DAY, build, clocked

sys.path.append(str(ROOT / "tests" / "keep"))

from postgres_server import Server, running_server

from assistant.keep import Journal, opening
from assistant.keep.drill import drill
from assistant.keep.server_backup import back_up_server
from assistant.larder.whereabouts import whereabouts
from assistant.past.lookback import LookBack
from assistant.report.batch import batch_lines

KITCHENS, LIVE, PAGES = 5, 8, 4
SETTINGS = " -c fsync=on -c shared_buffers=512MB -c autovacuum=on -c max_connections=60"
WORDS = ("how much sugar", "2 kg of raspberries", "note the pan is blue", "where are we")


class Kitchen:
    """One `panside screen` with a name, a journal and a port of its own."""

    def __init__(self, number: int, store: str, folder: Path) -> None:
        own = folder / f"kitchen-{number}"
        own.mkdir()
        named = {"PANSIDE_KITCHEN": f"kitchen {number}", "PANSIDE_PERSON": f"cook {number}"}
        where = {"PANSIDE_STORE": store, "XDG_DATA_HOME": str(own), "PYTHONPATH": str(ROOT)}
        command = ["from assistant.commands import main; main()", "screen", "--port", "0", "--mute"]
        self.errors = (own / "errors").open("w+", encoding="utf-8")
        self.process = subprocess.Popen(
            [sys.executable, "-c", *command],
            stdout=subprocess.PIPE,
            stderr=self.errors,
            env={**os.environ, **named, **where},
            text=True,
        )
        assert self.process.stdout is not None
        said = next(line for line in self.process.stdout if "kitchen page" in line)
        self.address = next(word for word in said.split() if word.startswith("http"))
        self.batches = begun(self.address, LIVE)

    def end(self) -> str:
        """What it complained of."""
        self.process.send_signal(signal.SIGINT)
        self.process.wait(30)
        self.errors.seek(0)
        return self.errors.read()


async def worked(
    kitchens: list[Kitchen], seconds: float, pause: float
) -> tuple[list[float], int, list[float]]:
    """Waits for the written word, words without an answer, waits of another page's view. [s]"""
    on = [[(await lines(k.address, b, 1))[0] for b in k.batches] for k in kitchens]
    beside = [(await lines(k.address, k.batches[n], 1))[0] for k in kitchens for n in range(PAGES)]
    said = await asyncio.gather(*(talk(pages, seconds, pause) for pages in on))
    await asyncio.sleep(5.0)
    mine = [line for pages in on for line in pages]
    acks = [wait for line in mine for wait in line.acks]
    seen = [
        other.turns[name] - line.sent[name]
        for n, pages in enumerate(on)
        for line, other in zip(pages[:PAGES], beside[n * PAGES : (n + 1) * PAGES], strict=True)
        for name in line.sent
        if name in other.turns
    ]
    for line in (*mine, *beside):
        await line.socket.close()
    return acks, sum(said) - len(acks), seen


async def talk(pages: list[Line], seconds: float, pause: float) -> int:
    """A word after each pause, in turn on each of a kitchen's batches."""
    until, said = time.perf_counter() + seconds, 0
    while time.perf_counter() < until:
        line = pages[said % len(pages)]
        await line.say(WORDS[said // len(pages) % len(WORDS)])
        said += 1
        await asyncio.sleep(pause)
    return said


def table(what: str, waits: list[float]) -> None:
    if not waits:
        print(f"{what:52} none", flush=True)
        return
    late = sorted(waits)[max(0, round(0.95 * len(waits)) - 1)]
    print(
        f"{what:52} median {statistics.median(waits):7.3f} s, 95 % {late:7.3f} s,"
        f" slowest {max(waits):7.3f} s, of {len(waits)}",
        flush=True,
    )


def asked(what: str, question: Callable[[], object], times: int = 9) -> None:
    waits = []
    for _ in range(times):
        began = time.perf_counter()
        question()
        waits.append(time.perf_counter() - began)
    table(what, waits)


def office(store: str) -> None:
    """What is asked of all batches."""
    with Journal(store) as journal:
        past, today = LookBack(journal), LAST_DAY + timedelta(days=3)
        print(f"{past.count()} batches; in store {len(past.larder(today).in_store())}", flush=True)
        name = past.alike("berry-syrup", "blackcurrant", datetime(2026, 7, 12, tzinfo=UTC), 1)
        batch = name[0].batch
        asked("larder", lambda: past.larder(today))
        asked("larder of a day three weeks ago",
              lambda: past.larder(today, today - timedelta(days=21)))  # fmt: skip
        asked("recall of a printed lot: its bottles", lambda: [
            whereabouts(journal.events(b)) for b in journal.carrying(batch)
        ])  # fmt: skip
        short = batch.rpartition("-")[2]
        asked("a lot by its last letters", lambda: journal.called(short))
        asked("report of a batch", lambda: list(batch_lines(journal.events(batch), {})))
        asked("the last 100 batches", lambda: past.batches(100))


def connections(server: Server) -> int:
    with server.talk() as owner:
        wanted = "SELECT count(*) FROM pg_stat_activity WHERE datname LIKE 'kitchen%'"
        row = owner.execute(wanted).fetchone()
        return int(row[0]) if row else 0


def main() -> None:
    """Build, work, ask, copy."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("--batches", type=int, default=200_000)
    words.add_argument("--seconds", type=float, default=60.0)
    words.add_argument("--pause", type=float, default=4.0, help="between a kitchen's words [s]")
    words.add_argument("--drill", action="store_true", help="drill the backup too")
    chosen = words.parse_args()
    with running_server(SETTINGS, on_disk=True) as server, tempfile.TemporaryDirectory() as scratch:
        measure(server, Path(scratch), chosen)


def measure(server: Server, folder: Path, chosen: argparse.Namespace) -> None:
    store = server.database()
    Journal(store).close()
    began = time.perf_counter()
    build(store, chosen.batches)
    with server.talk() as owner:
        name = store.split("@/")[1].split("?")[0]
        row = owner.execute(f"SELECT pg_database_size('{name}') / 1e9").fetchone()
        size = float(row[0]) if row else 0.0
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}; {chosen.batches} batches,"
          f" {size:.2f} GB, built in {time.perf_counter() - began:.0f} s", flush=True)  # fmt: skip
    with clocked("first larder of all"), Journal(store) as journal:
        LookBack(journal).larder(LAST_DAY)
    kitchens = [Kitchen(number, store, folder) for number in range(1, KITCHENS + 1)]
    try:
        print(f"{len(kitchens)} kitchens, {LIVE * KITCHENS} live batches,"
              f" {PAGES * KITCHENS} pages beside the talkers'", flush=True)  # fmt: skip
        acks, lost, seen = asyncio.run(worked(kitchens, chosen.seconds, chosen.pause))
        table("a turn: said, written on the server, answered", acks)
        table("the same turn on another page", seen)
        print(f"words without an answer: {lost}; connections: {connections(server)};"
              f" load {os.getloadavg()[0]:.1f}")  # fmt: skip
        memory = [used(kitchen.process.pid)[1] for kitchen in kitchens]
        print(f"memory of a kitchen's page server: {statistics.median(memory):.0f} MB", flush=True)
        office(store)
    finally:
        complaints = [kitchen.end() for kitchen in kitchens]
    print("complaints:", sum(len(told.splitlines()) for told in complaints), flush=True)
    print("".join(complaints)[:2000], end="")
    copies = folder / "copies"
    copies.mkdir()
    with clocked("base backup, verified"):
        print(back_up_server(opening.address(store), copies, datetime.now(UTC)))
    if chosen.drill:
        with clocked("drill: put back, walked, compared"):
            print(drill(opening.address(store), copies))


if __name__ == "__main__":
    main()
