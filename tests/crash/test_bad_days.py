"""A full disk, a folder that can't be written, a spoiled file, a clock set back."""

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from event_makers import begin, small_batch

from assistant.base.clock import SetClock
from assistant.base.errors import StoreUnusable
from assistant.facts.events import AnyEvent
from assistant.keep import Journal, salvage
from assistant.recipebook.files import load_recipe
from assistant.turns.desk import Desk
from assistant.turns.utterance import Utterance
from tests.crash.kitchen_child import START

BATCH = "2026-07-04-1"
EVENTS = 60
KEEP = Path(__file__).parent.parent / "keep"


def append(store: Path, many: int, before: Callable[[], None] | None = None) -> list[str]:
    """Append in a process of its own; what it told, a number for each accepted event."""
    done = subprocess.run(
        [sys.executable, str(KEEP / "appender.py"), str(store), BATCH, str(many), "open"],
        input="go\n", capture_output=True, text=True, preexec_fn=before,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(KEEP), str(KEEP.parent.parent)])},
    )  # fmt: skip
    return [line for line in done.stdout.splitlines() if line != "ready"] or [done.stderr]


def small_files() -> None:
    """No file may grow past 240 kB, as on a disk with a quota."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (240_000, 240_000))


def test_a_quota_costs_nothing_that_was_accepted(tmp_path: Path) -> None:
    told = append(tmp_path / "store.sqlite", 2_000, small_files)
    assert "reports a fault" in told[-1] or "is full" in told[-1]
    accepted = int(told[-2])
    with Journal(tmp_path / "store.sqlite") as journal:
        assert journal.events(BATCH) == small_batch(readings=accepted - 1)
    assert append(tmp_path / "store.sqlite", 1) == [str(accepted + 1)]


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 400 kB, where this user may mount one."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", str(disk)]
    if shutil.which("mount") is None or subprocess.run(mount, capture_output=True).returncode:
        pytest.skip("this user may not mount a disk")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_full_disk_costs_nothing_that_was_accepted(tiny_disk: Path) -> None:
    store = tiny_disk / "store.sqlite"
    told = append(store, 5_000)
    assert "is full; make some room" in told[-1]
    accepted = int(told[-2])
    ballast = tiny_disk / "ballast"
    with Journal(store) as journal:
        assert journal.events(BATCH) == small_batch(readings=accepted - 1)
    ballast.unlink(missing_ok=True)
    subprocess.run(["mount", "-o", "remount,size=700k", str(tiny_disk)], check=True)
    assert append(store, 1) == [str(accepted + 1)]


SOMEBODY_ELSE = """
import os, sys
from datetime import UTC, datetime
from assistant.facts.events import Begin
from assistant.keep import Journal
from assistant.base.errors import StoreUnusable
Journal("sqlite://").close()  # all that is imported later, while the packages can be read
os.setgid(65534)
os.setuid(65534)
try:
    Journal(sys.argv[1]).append_all("x", [Begin(at=datetime.now(UTC), batch="x", recipe={})], 0)
except StoreUnusable as error:
    print(error)
"""


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that others can look into."""
    folder = Path(tempfile.mkdtemp(prefix="panside-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


@pytest.mark.skipif(os.getuid() != 0, reason="only root can become somebody else")
@pytest.mark.parametrize("there", [False, True])
def test_a_folder_that_can_only_be_read_is_told(open_folder: Path, there: bool) -> None:
    store = open_folder / "store.sqlite"
    if there:
        make(store)
    done = subprocess.run(
        [sys.executable, "-c", SOMEBODY_ELSE, str(store)], capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(KEEP.parent.parent)},
    )  # fmt: skip
    expected = "can only be read; make it writable" if there else "you may write there"
    assert expected in done.stdout, done
    assert [p.name for p in open_folder.iterdir()] == (["store.sqlite"] if there else [])


def make(store: Path) -> tuple[AnyEvent, ...]:
    long = begin(BATCH).model_copy(update={"recipe": {"name": "l", "text": "sugar " * 2_000}})
    events = (long, *small_batch(BATCH, EVENTS)[1:])
    with Journal(store) as journal:
        journal.append_all(BATCH, events, 0)
    return events


def cut_short(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data))]


def without_last_page(data: bytes, _chance: random.Random) -> bytes:
    return data[:-4096]


def last_page_spoiled(data: bytes, chance: random.Random) -> bytes:
    return data[:-4096] + chance.randbytes(4096)


def page_spoiled(data: bytes, chance: random.Random) -> bytes:
    at = 4096 * chance.randrange(len(data) // 4096)
    return data[:at] + chance.randbytes(4096) + data[at + 4096 :]


def some_bytes_spoiled(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) - 16)
    return data[:at] + chance.randbytes(16) + data[at + 16 :]


def one_bit_turned(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data))
    return data[:at] + bytes([data[at] ^ (1 << chance.randrange(8))]) + data[at + 1 :]


SPOILING = (
    cut_short, without_last_page, last_page_spoiled, page_spoiled, some_bytes_spoiled,
    one_bit_turned,
)  # fmt: skip


def after_damage(folder: Path, spoil: Callable[..., bytes], seed: int) -> str:
    """Spoil a store, look at it, salvage it: "told", "whole", or what went wrong."""
    store = folder / f"{spoil.__name__}-{seed}.sqlite"
    events = make(store)
    spoiled = spoil(store.read_bytes(), random.Random(seed))
    store.write_bytes(spoiled)
    try:
        with Journal(store) as journal:
            found = journal.events(BATCH)
        verdict = "whole" if found == events else f"{len(found)} of {len(events)} events, untold"
    except StoreUnusable as error:
        verdict = "told" if "salvage" in str(error) else f"no way out: {error}"
        assert store.read_bytes() == spoiled, "the damaged file was written to"
    saved = salvage_all(store, folder / f"{spoil.__name__}-{seed}.new")
    assert all(a == b for a, b in zip(saved, events, strict=False))
    return verdict


def salvage_all(store: Path, target: Path) -> tuple[AnyEvent, ...]:
    try:
        salvage(store, target)
    except Exception as error:
        assert "no event that can be read" in str(error)  # noqa: PT017
        return ()
    with Journal(target) as journal:
        return journal.events(BATCH)


@pytest.mark.parametrize("spoil", SPOILING, ids=lambda f: f.__name__)
def test_damage_is_told_and_never_taken_for_true(
    tmp_path: Path, spoil: Callable[..., bytes]
) -> None:
    verdicts = {after_damage(tmp_path, spoil, seed) for seed in range(4)}
    assert verdicts <= {"told", "whole"}


def test_a_clock_set_back_keeps_the_order(tmp_path: Path) -> None:
    clock = SetClock(START)
    with Journal(tmp_path / "s.sqlite") as journal:
        desk = Desk(journal, clock)
        batch = desk.begin(load_recipe("berry-syrup")).id
        for number, back in enumerate((0, -86_400, 5, -40 * 86_400, 60)):
            clock.forward(back)
            desk.take(Utterance.typed(f"note number {number}"))
    with Journal(tmp_path / "s.sqlite") as journal:
        said = [event.heard for event in journal.events(batch)[1:]]
        assert said == [f"note number {n}" for n in range(5)]
        again = Desk(journal, SetClock(START - timedelta(days=400)))
        again.open(batch)
        again.take(Utterance.typed("note number 5"))
        assert journal.events(batch)[-1].heard == "note number 5"
        other = Desk(journal, SetClock(START)).begin(load_recipe("berry-syrup"))
        assert other.id != batch
