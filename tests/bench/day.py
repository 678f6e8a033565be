"""A day of five kitchens on one server: cuts, a stall, a restore, and an oracle that stands apart.

    python -m tests.bench.day [--batches 600] [--seed 1]

Each kitchen works with a writer's login over a cable of its own (`tests.bench.cable`), on several
batches at a time, and looks in on another kitchen's batches: remarks there, now and then joining
in. Two cables are cut for a while, the server stands still once, and once its disk is lost: it is
put back from the base backup of the morning and the log that was archived. What each kitchen was
told is written down it also puts into a ledger of its own; in the end the server's rows are read
with plain SQL and held against the ledgers: nothing lost, doubled, changed, moved, or under
another's name. The store's own code takes no part in that.
"""

import argparse
import json
import random
import sys
import tempfile
import threading
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

sys.path.append(str(Path(__file__).resolve().parents[1] / "keep"))

from postgres_server import Server, running_server

from assistant.base.errors import AnotherSession, LeaseLost
from assistant.facts.events import AnyEvent, By, Note, event_adapter
from assistant.keep import LENGTH, Journal, SharedJournal, opening
from assistant.keep.roles import prepare
from assistant.keep.server_backup import back_up_server, put_back
from assistant.past.joining import may_join, told
from tests.bench.cable import Cable

KITCHENS, LIVE = 5, 4
ARCHIVING = " -c archive_mode=on -c archive_timeout=5 -c archive_command='cp %p ../kept/log/%f'"
_QUICKER = 20.0
"""So much quicker runs the clock by which a kitchen looks for a server that was away."""
_TURNS = 15
"""So many turns a batch takes, about."""
_DAY = datetime(2026, 7, 4, 6, 0, tzinfo=UTC)


@dataclass
class Entry:
    """What a kitchen was told is written: by whom, into which batch, in which turn of its day."""

    kitchen: str
    batch: str
    body: dict[str, Any]
    turn: int


@dataclass
class Kitchen:
    """One kitchen's day, and its ledger."""

    name: str
    store: str
    own: Path
    cable: Cable
    ledger: list[Entry] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    waits: list[float] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)

    @property
    def by(self) -> By:
        return By(person=f"cook of {self.name}", kitchen=self.name, device="stove")

    def open(self) -> None:
        self.journal = SharedJournal(
            self.store, self.own, may_join, self.told.append, told,
            lambda: time.monotonic() * _QUICKER,
        )  # fmt: skip
        self.journal.sign(self.by)
        self.lengths: dict[str, int] = {}

    def write(self, batch: str, events: Sequence[AnyEvent], joins: bool = False) -> None:
        """As a desk does: again where another has written meanwhile, joining where asked to."""
        began = time.perf_counter()
        for _ in range(20):
            if batch not in self.lengths:
                self.lengths[batch] = len(self.journal.events(batch))
            try:
                if joins:
                    now = events[0].at
                    self.journal.acquire(batch, now, now + LENGTH, join=True)
                self.journal.append_all(batch, events, self.lengths[batch])
            except LeaseLost:
                joins = True
            except AnotherSession:
                del self.lengths[batch]
            else:
                break
        else:
            raise AssertionError(f"{self.name} never came to write to {batch}")
        self.waits.append(time.perf_counter() - began)
        self.lengths[batch] += len(events)
        for event in events:
            body = json.loads(event_adapter.dump_json(event))
            self.ledger.append(Entry(self.name, batch, body, len(self.waits)))


class Day:
    """What is going on, by how much of the work is done."""

    def __init__(self, server: Server, folder: Path, batches: int, seed: int, pace: float) -> None:
        self.server, self.folder, self.batches, self.pace = server, folder, batches, pace
        self.kept = Path(server.folder, "kept")
        (self.kept / "log").mkdir(parents=True)
        for path in (self.kept, self.kept / "log"):
            path.chmod(0o777)
        self.store = server.database()
        self.database = self.store.split("@/")[1].split("?")[0]
        names = [f"kitchen_{n}" for n in range(1, KITCHENS + 1)]
        with server.talk() as owner:
            for name in names:
                owner.execute(f"CREATE ROLE {name} LOGIN")
        with Journal(self.store) as journal:
            prepare(journal, names)
        self.kitchens = [self._kitchen(name) for name in names]
        self.seed, self.turns, self.begun = seed, 0, list[str]()
        self.scripts = scripts()
        self.happened: list[str] = []

    def _kitchen(self, name: str) -> Kitchen:
        cable = Cable(Path(self.server.folder), self.folder / name)
        store = f"postgresql://{name}@/{self.database}?host={self.folder / name}"
        return Kitchen(name, store, self.folder / f"{name}.sqlite", cable)

    def run(self) -> None:
        """All of it; afterwards every kitchen has come home once more."""
        for kitchen in self.kitchens:
            kitchen.open()
        threads = [threading.Thread(target=self._work, args=(k,)) for k in self.kitchens]
        for thread in threads:
            thread.start()
        self._disturb()
        for thread in threads:
            thread.join()
        for _ in range(2):
            for kitchen in self.kitchens:
                kitchen.journal.close()
                kitchen.open()
        for kitchen in self.kitchens:
            kitchen.journal.close()
            kitchen.cable.cut()

    def _work(self, kitchen: Kitchen) -> None:
        chance = random.Random(f"{self.seed} {kitchen.name}")
        try:
            for turn in self._turns(kitchen, chance):
                kitchen.write(*turn)
                self.turns += 1
                time.sleep(self.pace)
        except Exception as error:
            kitchen.wrong.append(f"{kitchen.name} stopped: {error!r}")
            raise

    def _turns(
        self, kitchen: Kitchen, chance: random.Random
    ) -> Iterator[tuple[str, Sequence[AnyEvent], bool]]:
        mine = self.batches // KITCHENS
        live: dict[str, list[AnyEvent]] = {}
        begun = 0
        while begun < mine or live:
            if begun < mine and len(live) < LIVE:
                begun += 1
                name = f"2026-07-04-{begun}-{kitchen.name[-1]}{chance.randrange(10_000):04}"
                live[name] = self._events(name, chance)
                self.begun.append(name)
            name = chance.choice(sorted(live))
            many = chance.randint(1, 3)
            turn, live[name] = live[name][:many], live[name][many:]
            yield name, turn, False
            if not live[name]:
                del live[name]
            if chance.random() < 0.02:
                yield from self._visit(kitchen, chance)

    def _events(self, name: str, chance: random.Random) -> list[AnyEvent]:
        """A whole batch, each event with words of its own, by which it is known again."""
        first, *rest = chance.choice(self.scripts)
        shift = _DAY + timedelta(seconds=chance.randrange(10**7) / 1000) - first.at
        told = [first.model_copy(update={"batch": name}), *rest]
        return [
            event.model_copy(update={"at": event.at + shift, "heard": f"{name}: {n}"})
            for n, event in enumerate(told)
        ]

    def _visit(
        self, kitchen: Kitchen, chance: random.Random
    ) -> Iterator[tuple[str, Sequence[AnyEvent], bool]]:
        """A look at a batch of another kitchen, with a remark; every other time it joins in."""
        others = [name for name in self.begun[-40:] if name[-5] != kitchen.name[-1]]
        if not others:
            return
        name = chance.choice(others)
        if len(kitchen.journal.events(name)) == 0:
            return  # Begun alone and not sent yet.
        kitchen.lengths.pop(name, None)
        words = f"{kitchen.name} looks in on {name}: {chance.random()}"
        yield name, [Note(at=_DAY + timedelta(hours=6), text="looked in", heard=words)], (
            chance.random() < 0.5
        )  # fmt: skip

    def _disturb(self) -> None:
        """Each disturbance when so much of the work is done, and for so long. [s]"""
        self._until(0.10)
        back_up_server(opening.address(self.store), self.kept, datetime.now(UTC))
        self._say("base backup")
        for share, kitchen in ((0.2, self.kitchens[1]), (0.35, self.kitchens[3])):
            self._until(share)
            kitchen.cable.cut()
            self._say(f"{kitchen.name} is cut off")
            time.sleep(2)
            kitchen.cable.mend()
        self._until(0.5)
        self._say("the server stands still")
        with self.server.stalled():
            time.sleep(4)
        self._until(0.7)
        self.server.stop()
        data = Path(self.server.folder, "data")
        data.rename(data.with_name("lost"))
        taken = put_back(self.kept, data)
        self.server.start()
        self._say(f"the disk is lost, {taken.name} put back")

    def _until(self, share: float) -> None:
        while self.turns < share * _TURNS * self.batches and not any(
            k.wrong for k in self.kitchens
        ):
            time.sleep(0.02)

    def _say(self, what: str) -> None:
        self.happened.append(f"{what}, after {self.turns} turns")


def scripts() -> list[tuple[AnyEvent, ...]]:
    """The batches of the journeys, as an undisturbed desk writes them."""
    from tests.crash.killing import JOURNEYS
    from tests.crash.kitchen_child import reference

    bodies = [reference(script)[1] for script in JOURNEYS]
    return [tuple(event_adapter.validate_json(body) for body in each) for each in bodies]


Row = tuple[str, int, dict[str, Any]]


@dataclass(frozen=True)
class Verdict:
    """What the oracle says; `wrong` is empty where all is well.

    entries, rows : in the ledgers, on the server; forks : batches kept twice, each told
    """

    entries: int
    rows: int
    forks: int
    wrong: Counter[str]
    examples: tuple[str, ...]


def judged(server: Server, database: str, ledgers: list[Entry]) -> Verdict:
    """The server's rows, read with plain SQL, against what the kitchens were told."""
    import psycopg

    with psycopg.connect(f"host={server.folder} user=cook dbname={database}") as base:
        wanted = "SELECT batch, seq, body FROM events ORDER BY batch, seq"
        rows = [(str(b), int(s), json.loads(body)) for b, s, body in base.execute(wanted)]
    return held_against(rows, ledgers)


def held_against(rows: list[Row], ledgers: list[Entry]) -> Verdict:
    """The same for rows at hand."""
    oracle = Oracle(ledgers)
    before = ("", 0)
    for batch, seq, body in rows:
        if seq != (before[1] + 1 if batch == before[0] else 0):
            oracle.complain("gap", f"{batch} {seq}")
        before = (batch, seq)
        oracle.see(batch, body)
    forks = {batch for batch, _, _ in rows if batch.count("-") > 4}
    oracle.count(forks)
    return Verdict(len(ledgers), len(rows), len(forks), oracle.wrong, tuple(oracle.examples))


class Oracle:
    """What the kitchens were told is written, and what is wrong with what is."""

    def __init__(self, ledgers: list[Entry]) -> None:
        self.wrong: Counter[str] = Counter()
        self.examples: list[str] = []
        self._entries = {entry.body["heard"]: entry for entry in ledgers}
        self._places: dict[str, list[str]] = defaultdict(list)
        self._turns: dict[tuple[str, str], int] = defaultdict(int)

    def complain(self, kind: str, what: str) -> None:
        """One thing that is wrong."""
        self.wrong[kind] += 1
        if self.wrong[kind] <= 5:
            self.examples.append(f"{kind}: {what}")

    def see(self, batch: str, body: dict[str, Any]) -> None:
        """One row."""
        heard = body["heard"]
        entry = self._entries.get(heard)
        if entry is None:
            self.complain("strange", f"{batch} {heard}")
            return
        self._places[heard].append(batch)
        by = body.get("by") or {}
        if (by.get("kitchen"), by.get("person")) != (entry.kitchen, f"cook of {entry.kitchen}"):
            self.complain("misattributed", f"{heard} by {by}")
        if batch != entry.batch and not batch.startswith(f"{entry.batch}-"):
            self.complain("moved", f"{heard} is in {batch}")
        if _content(body) != _content(entry.body):
            self.complain("changed", heard)
        if self._turns[batch, entry.kitchen] > entry.turn:
            self.complain("out of order", heard)
        self._turns[batch, entry.kitchen] = entry.turn

    def count(self, forks: set[str]) -> None:
        """Whether each entry is there, and once, or once in each of a batch's two."""
        for heard, entry in self._entries.items():
            found = self._places[heard]
            if not found:
                self.complain("lost", f"{heard} of {entry.kitchen}")
            forked = any(fork.startswith(f"{entry.batch}-") for fork in forks)
            if len(found) > len(set(found)) or (len(found) > 1 and not forked):
                self.complain("doubled", f"{heard} in {found}")


def _content(body: dict[str, Any]) -> dict[str, Any]:
    """Without who wrote it and what a second name of its batch changes."""
    left_out = {"by", "lots"} | ({"batch"} if body["kind"] == "begin" else set())
    return {key: value for key, value in body.items() if key not in left_out}


@contextmanager
def a_day(batches: int, seed: int, pace: float = 0.0) -> Iterator[Day]:
    """A server and its five kitchens, thrown away in the end.

    pace : a pause after each turn [s]
    """
    with running_server(ARCHIVING) as server, tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        yield Day(server, Path(folder), batches, seed, pace)


def main() -> None:
    """Live the day, judge it, print."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("--batches", type=int, default=600)
    words.add_argument("--seed", type=int, default=1)
    chosen = words.parse_args()
    began = time.perf_counter()
    with a_day(chosen.batches, chosen.seed) as day:
        day.run()
        took = time.perf_counter() - began
        ledgers = [entry for kitchen in day.kitchens for entry in kitchen.ledger]
        found = judged(day.server, day.database, ledgers)
    for what in day.happened:
        print(what)
    for kitchen in day.kitchens:
        waits = sorted(kitchen.waits)
        print(f"{kitchen.name}: {len(waits)} turns, median {1000 * waits[len(waits) // 2]:.0f} ms,"
              f" slowest {waits[-1]:.2f} s, told {len(kitchen.told)} sentences")  # fmt: skip
        for words_ in kitchen.wrong:
            print(f"  {words_}")
    print(f"{chosen.batches} batches, {found.entries} entries in the ledgers, {found.rows} rows,"
          f" {found.forks} batches kept twice; {took:.0f} s")  # fmt: skip
    print("wrong:", dict(found.wrong) or "nothing")
    print("\n".join(found.examples))
    sys.exit(bool(found.wrong or any(k.wrong for k in day.kitchens)))


if __name__ == "__main__":
    main()
