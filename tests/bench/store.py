"""How quickly a store of many batches answers.

    python -m tests.bench.store [--batches 200000] [--postgres] [--backup]

The store is built with bulk inserts from whole journeys, each batch under a name and a day of its
own, its summary copied likewise from one that was worked out; the larder holds the last 300. Then
the questions are asked inside one process: the start of a process (about 1.7 s) is not in these
figures. Numbers are printed, nothing is asserted.
"""

import argparse
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from assistant.cook import fold
from assistant.facts.events import AnyEvent, Begin, Note, event_adapter
from assistant.keep import NEVER, Journal, Summary, back_up
from assistant.keep.seal import link, seal
from assistant.keep.summaries import sealed
from assistant.past.lookback import VERSION, LookBack, summary

sys.path.append(str(Path(__file__).resolve().parents[1] / "keep"))

from postgres_server import running_server

from tests.crash.killing import JOURNEYS
from tests.crash.kitchen_child import reference

IN_STORE = 300
UNFINISHED = 20
LAST_DAY = date(2026, 7, 11)
NAME = "2026-07-11-1-k7m4p"
TABLES = {
    "batches": "id, recipe, begun_at",
    "events": "batch, seq, at, kind, body, seal, chain",
    "summaries": "batch, events, begun, last, recipe, fruit, open, filled, emptied, body, code,"
    " seal",
}
Rows = dict[str, list[tuple[object, ...]]]


def main() -> None:
    """Build, ask, print."""
    words = argparse.ArgumentParser()
    words.add_argument("--batches", type=int, default=200_000)
    words.add_argument("--postgres", action="store_true", help="on a server instead of a file")
    words.add_argument("--store", help="ask this one, built before and kept")
    words.add_argument("--backup", action="store_true", help="time a backup too")
    asked = words.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        if asked.store:
            ask(asked.store)
        elif asked.postgres:
            with running_server() as server:
                measure(server.database(), asked.batches, Path(folder), asked.backup)
        else:
            measure(f"{folder}/store.sqlite", asked.batches, Path(folder), asked.backup)


def measure(store: str, batches: int, folder: Path, backup: bool) -> None:
    began = time.perf_counter()
    Journal(store).close()
    build(store, batches)
    print(f"{batches} batches built in {time.perf_counter() - began:.0f} s", flush=True)
    if Path(store).is_file():
        print(f"file of {Path(store).stat().st_size / 1e9:.2f} GB")
    ask(store)
    rebuild(folder)
    if backup:
        with clocked("backup, read back"), Journal(store) as journal:
            print(back_up(journal, folder / "backup.sqlite"))


def templates() -> list[tuple[tuple[AnyEvent, ...], Summary]]:
    """Whole batches, and their summaries as they are worked out."""
    found = []
    for script in JOURNEYS:
        events = tuple(event_adapter.validate_json(body) for body in reference(script)[1])
        found.append((events, summary(events)))
    return found


def many(batches: int) -> Iterator[Rows]:
    """The rows of all batches, some thousand at a time; forty batches a day."""
    made = templates()
    bodies = [[event_adapter.dump_json(e).decode() for e in events] for events, _ in made]
    rows: Rows = {table: [] for table in TABLES}
    for number in range(batches):
        kind = number % len(made)
        day = LAST_DAY - timedelta(days=(batches - 1 - number) // 40)
        name = f"{day}-{number % 40 + 1}"
        add(rows, name, day.isoformat(), made[kind], bodies[kind], batches - number)
        if len(rows["batches"]) == 2_000:
            yield rows
            rows = {table: [] for table in TABLES}
    yield rows


def add(
    rows: Rows,
    name: str,
    day: str,
    made: tuple[tuple[AnyEvent, ...], Summary],
    bodies: list[str],
    age: int,
) -> None:
    events, brief = made
    begun = events[0].at.isoformat().replace(LAST_DAY.isoformat(), day)
    rows["batches"].append((name, brief.recipe, begun))
    before = ""
    for seq, (event, body) in enumerate(zip(events, bodies, strict=True)):
        text = body.replace(NAME, name, 1) if seq == 0 else body
        text = text.replace(f"{LAST_DAY}T", f"{day}T", 1)
        at = event.at.isoformat().replace(LAST_DAY.isoformat(), day)
        before = link(before, name, seq, text)
        row = (name, seq, at, event.kind, text, seal(name, seq, text), before)
        rows["events"].append(row)
    moved = replace(
        brief,
        batch=name,
        begun=brief.begun.replace(LAST_DAY.isoformat(), day),
        last=brief.last.replace(LAST_DAY.isoformat(), day),
        filled=day,
        emptied=NEVER if age <= IN_STORE else day,
        open=age <= UNFINISHED,
        body=brief.body.replace(NAME, name).replace(LAST_DAY.isoformat(), day),
    )
    rows["summaries"].append(tuple(sealed(moved, str(VERSION)).values()))


def build(store: str, batches: int) -> None:
    if "://" in store:
        build_on_server(store, batches)
        return
    with closing(sqlite3.connect(store, isolation_level=None)) as base:
        base.execute("PRAGMA synchronous=OFF")
        base.execute("PRAGMA cache_size=-400000")
        base.execute("BEGIN")
        for rows in many(batches):
            for table, columns in TABLES.items():
                marks = ", ".join("?" for _ in columns.split(", "))
                base.executemany(f"INSERT INTO {table} ({columns}) VALUES ({marks})", rows[table])
        base.execute("COMMIT")
        base.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def build_on_server(store: str, batches: int) -> None:
    import psycopg

    with psycopg.connect(store) as base, base.cursor() as cursor:
        for rows in many(batches):
            for table, columns in TABLES.items():
                with cursor.copy(f"COPY {table} ({columns}) FROM STDIN") as copy:
                    for row in rows[table]:
                        copy.write_row(row)
        base.commit()
        base.autocommit = True
        cursor.execute("ANALYZE")


def ask(store: str) -> None:
    with clocked("open the store"):
        journal = Journal(store)
    past, today = LookBack(journal), LAST_DAY + timedelta(days=3)
    larder = past.larder(today)
    print(f"in store: {len(larder.in_store())} batches; {past.count()} batches in all")
    told("larder", lambda: past.larder(today))
    told("larder of a day three weeks ago", lambda: past.larder(today, today - timedelta(days=21)))
    told("the last 100 batches", lambda: past.batches(100))
    told("the unfinished batch", past.unfinished)
    told("the same as last year's", lambda: past.alike(
        "berry-syrup", "blackcurrant", datetime(2025, 12, 31, tzinfo=UTC), limit=5
    ))  # fmt: skip
    told("a name for a new batch", lambda: journal.names("2026-07-11"))
    name = past.batches(1)[0].batch
    told("the events of one batch", lambda: journal.events(name))
    told("the events of one batch, folded", lambda: fold(journal.events(name)))
    told("a note, and the larder after it", lambda: noted(journal, past, name, today))
    journal.close()


def noted(journal: Journal, past: LookBack, name: str, today: date) -> None:
    event = Note(at=datetime(2026, 7, 14, tzinfo=UTC), text="label is loose")
    journal.append(name, event, len(journal.events(name)))
    past.larder(today)


def rebuild(folder: Path) -> None:
    """How long it takes to work summaries out, as after an update."""
    with Journal(folder / "small.sqlite") as journal:
        for number in range(60):
            events = templates_cached()[number % len(JOURNEYS)]
            first = events[0]
            assert isinstance(first, Begin)
            named = first.model_copy(update={"batch": f"b-{number}"})
            journal.append_all(named.batch, (named, *events[1:]), 0)
        began = time.perf_counter()
        LookBack(journal).count()
        print(f"worked out anew: {(time.perf_counter() - began) / 60 * 1000:.1f} ms a batch")


_templates: list[tuple[AnyEvent, ...]] = []


def templates_cached() -> list[tuple[AnyEvent, ...]]:
    if not _templates:
        _templates.extend(events for events, _ in templates())
    return _templates


def told(what: str, question: Callable[[], object]) -> None:
    times = []
    for _ in range(7):
        began = time.perf_counter()
        question()
        times.append(1000 * (time.perf_counter() - began))
    print(
        f"{what:36} first {times[0]:7.1f} ms, median {statistics.median(times):7.1f} ms,"
        f" slowest {max(times):7.1f} ms",
        flush=True,
    )


@contextmanager
def clocked(what: str) -> Iterator[None]:
    began = time.perf_counter()
    yield
    print(f"{what:36} {1000 * (time.perf_counter() - began):7.1f} ms", flush=True)


if __name__ == "__main__":
    main()
