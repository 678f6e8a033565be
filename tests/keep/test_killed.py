"""A session killed at any moment, and sessions that get in each other's way, as real processes."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from event_makers import small_batch

from assistant.keep import Journal

BATCH = "2026-07-04-1"
HERE = Path(__file__).parent
Appender = subprocess.Popen[str]


def _start(store: Path, many: int, when: str = "first") -> Appender:
    """A program that appends, up to the point where it waits for the word to go."""
    paths = os.pathsep.join([str(HERE), str(HERE.parent.parent)])
    process = subprocess.Popen(
        [sys.executable, str(HERE / "appender.py"), str(store), BATCH, str(many), when],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": paths},
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    return process


def _go(process: Appender) -> None:
    assert process.stdin is not None
    process.stdin.write("go\n")
    process.stdin.flush()


def _told(process: Appender) -> list[str]:
    """All that it has still to tell, up to its end."""
    assert process.stdin is not None
    assert process.stdout is not None
    with process.stdin, process.stdout:
        told = process.stdout.read()
    process.wait()
    return told.splitlines()


def _killed_after(process: Appender, acknowledged: int, pause: float) -> int:
    """Kill it some time after so many acknowledgements; returns the last one it gave."""
    assert process.stdout is not None
    told = [process.stdout.readline().strip() for _ in range(acknowledged)]
    time.sleep(pause)
    process.send_signal(signal.SIGKILL)
    told += _told(process)
    assert process.returncode == -signal.SIGKILL
    return int(told[-1])


@pytest.mark.parametrize("seed", range(3))
def test_a_killed_session_loses_nothing_accepted(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    store = tmp_path / "store.sqlite"
    for _ in range(2):
        process = _start(store, 100_000)
        _go(process)
        acknowledged = _killed_after(process, chance.randint(1, 20), chance.uniform(0, 0.02))
        with Journal(store) as journal:
            events = journal.events(BATCH)
        assert len(events) in (acknowledged, acknowledged + 1)
        assert events == small_batch(readings=len(events) - 1)


@pytest.mark.parametrize("seed", range(2))
def test_a_session_killed_while_it_opens_leaves_a_store_that_opens(
    tmp_path: Path, seed: int
) -> None:
    process = _start(tmp_path / "store.sqlite", 3)
    _go(process)
    time.sleep(random.Random(seed).uniform(0, 0.2))
    process.kill()
    acknowledged = len(_told(process))
    with Journal(tmp_path / "store.sqlite") as journal:
        held = len(journal.events(BATCH))
        assert held in (acknowledged, acknowledged + 1)


def test_two_processes_on_one_batch(tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    both = [_start(store, 200, "open"), _start(store, 200, "open")]
    for process in both:
        _go(process)
    told = [_told(process) for process in both]
    refused = [lines for lines in told if lines and lines[-1].startswith("refused")]
    accepted = [int(line) for lines in told for line in lines if line.isdigit()]
    assert 1 <= len(refused) <= 2
    assert all("another session is working on this batch" in lines[-1] for lines in refused)
    assert len(accepted) == len(set(accepted))
    with Journal(store) as journal:
        assert journal.events(BATCH) == small_batch(readings=max(accepted) - 1)
    assert sorted(accepted) == list(range(1, max(accepted) + 1))


def test_two_processes_make_the_store_at_once(tmp_path: Path) -> None:
    both = [_start(tmp_path / "store.sqlite", 0) for _ in range(2)]
    for process in both:
        _go(process)
    for process in both:
        assert _told(process) == []
        assert process.returncode == 0
