"""Who looks at a batch hears of what others write to it within a second, and asks for no more."""

import time
from pathlib import Path

import pytest
from event_makers import reading, small_batch
from postgres_server import Server

from assistant.keep import Journal, SharedJournal, Watch
from assistant.keep.shared import PAUSE
from assistant.past.joining import may_join

BATCH = "2026-07-04-1"


@pytest.fixture(params=["file", "server"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    if request.param == "file":
        return str(tmp_path / "s.sqlite")
    pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
    server: Server = request.getfixturevalue("postgres")
    return server.database()


def heard(watch: Watch, seconds: float = 1.0) -> bool:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if watch.anything():
            return True
        time.sleep(0.02)
    return False


def test_what_another_writes_is_heard_once(store: str) -> None:
    with Journal(store) as one, Journal(store) as two:
        one.append_all(BATCH, small_batch(), 0)
        watch = Watch(two)
        assert watch.anything()
        assert not heard(watch, 0.2)
        for number in (6, 7):
            one.append(BATCH, reading(number), number)
            assert heard(watch)
            assert two.length(BATCH) == number + 1
        assert not heard(watch, 0.2)
        watch.close()


def test_memory_is_nobody_elses() -> None:
    with Journal("sqlite://") as journal:
        journal.append_all(BATCH, small_batch(), 0)
        assert not Watch(journal).anything()


def test_it_goes_on_after_a_cut(postgres: Server, tmp_path: Path) -> None:
    pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
    store, now = postgres.database(), [0.0]
    journal = SharedJournal(store, tmp_path / "own.sqlite", may_join, now=lambda: now[0])
    journal.append_all(BATCH, small_batch(), 0)
    watch = Watch(journal)
    watch.anything()
    postgres.stop()
    assert heard(watch)
    journal.append(BATCH, reading(6), 6)
    postgres.start()
    now[0] += PAUSE
    journal.append(BATCH, reading(7), 7)
    watch.anything()
    while watch.anything():
        pass
    with Journal(store) as other:
        other.append(BATCH, reading(8), 8)
    assert heard(watch)
    assert journal.length(BATCH) == 9
    watch.close()
    journal.close()
