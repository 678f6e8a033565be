"""A batch that somebody works on: whoever asks is told, joins if wanted, and the other is told."""

import os
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest
from event_makers import AT, reading, small_batch
from postgres_server import Server

from assistant.base.errors import AnotherSession, LeaseLost
from assistant.keep import LENGTH, Journal, Lease, SharedJournal
from assistant.keep.shared import PAUSE
from assistant.past.joining import may_join

KILLED = """
import os, sys
from datetime import datetime
from assistant.keep import LENGTH, Journal
at = datetime.fromisoformat(sys.argv[3])
Journal(sys.argv[1]).acquire(sys.argv[2], at, at + LENGTH)
os._exit(9)
"""
BATCH = "2026-07-04-1"
UNTIL = AT + LENGTH


@pytest.fixture(params=["file", "server"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    if request.param == "file":
        return str(tmp_path / "s.sqlite")
    pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
    server: Server = request.getfixturevalue("postgres")
    return server.database()


@pytest.fixture
def kitchens(store: str) -> tuple[Journal, Journal]:
    """Two kitchens at one store; the first has begun a batch and works on it."""
    one, two = Journal(store), Journal(store)
    one.work_as("Ana", "the tea hut")
    two.work_as("Ben", "the boat house")
    one.append_all(BATCH, small_batch(), 0)
    assert one.acquire(BATCH, AT, UNTIL).mine
    return one, two


def test_who_asks_is_told_who_works_on_it(kitchens: tuple[Journal, Journal]) -> None:
    one, two = kitchens
    found = two.acquire(BATCH, AT, UNTIL)
    assert found == Lease(BATCH, "Ana", "the tea hut", AT, UNTIL, mine=False)
    assert found.words == "Ana in the tea hut"
    assert two.lease(BATCH) == found
    one.append(BATCH, reading(6), 6)


def test_who_does_not_join_may_still_only_write_in_turn(
    kitchens: tuple[Journal, Journal],
) -> None:
    one, two = kitchens
    one.append(BATCH, reading(6), 6)
    with pytest.raises(AnotherSession):
        two.append(BATCH, reading(60), 6)


def test_who_joins_takes_it_over_and_the_other_is_told(
    kitchens: tuple[Journal, Journal],
) -> None:
    one, two = kitchens
    assert two.acquire(BATCH, AT, UNTIL, join=True).mine
    two.append(BATCH, reading(6), 6)
    with pytest.raises(LeaseLost, match=r"Ben in the boat house works on batch .* now") as lost:
        one.append(BATCH, reading(60), 7)
    assert isinstance(lost.value.lease, Lease)
    assert lost.value.lease.who == "Ben"
    with pytest.raises(LeaseLost):
        one.renew(BATCH, UNTIL)
    assert one.events(BATCH) == small_batch(readings=6)
    assert one.acquire(BATCH, AT, UNTIL, join=True).mine
    one.append(BATCH, reading(7), 7)
    with pytest.raises(LeaseLost):
        two.append(BATCH, reading(70), 8)


def test_a_lease_runs_out_and_each_turn_gives_it_longer(
    kitchens: tuple[Journal, Journal],
) -> None:
    one, two = kitchens
    late = reading(6).model_copy(update={"at": AT + timedelta(minutes=8)})
    one.append(BATCH, late, 6)
    found = two.acquire(BATCH, UNTIL, UNTIL + LENGTH)
    assert (found.mine, found.until) == (False, late.at + LENGTH)
    assert two.acquire(BATCH, late.at + LENGTH, UNTIL + LENGTH).mine


def test_a_lease_that_was_given_back_is_free(kitchens: tuple[Journal, Journal]) -> None:
    one, two = kitchens
    one.release(BATCH)
    assert two.lease(BATCH) is None
    assert two.acquire(BATCH, AT, UNTIL).mine
    one.release(BATCH)
    assert one.lease(BATCH) is not None


def test_who_closes_gives_back(kitchens: tuple[Journal, Journal]) -> None:
    one, two = kitchens
    one.close()
    assert two.acquire(BATCH, AT, UNTIL).mine


def test_an_own_lease_is_kept_since_when_it_was_taken(kitchens: tuple[Journal, Journal]) -> None:
    one, _ = kitchens
    again = one.acquire(BATCH, AT + timedelta(minutes=1), UNTIL + LENGTH)
    assert (again.mine, again.since) == (True, AT)


@pytest.mark.skipif(os.name != "posix", reason="asks the system about a process")
def test_a_program_that_was_killed_keeps_nobody_out(store: str) -> None:
    with Journal(store) as journal:
        journal.append_all(BATCH, small_batch(), 0)
        subprocess.run([sys.executable, "-c", KILLED, store, BATCH, AT.isoformat()], check=False)
        with journal.engine.connect() as connection:
            assert connection.exec_driver_sql("SELECT count(*) FROM leases").scalar() == 1
        assert journal.acquire(BATCH, AT, UNTIL).mine


class Apart:
    """A kitchen with a journal of its own beside a server."""

    def __init__(self, store: str, own: Path) -> None:
        self.time = 0.0
        self.journal = SharedJournal(store, own, may_join, now=lambda: self.time)


def test_kitchens_at_a_server_and_while_it_is_away(postgres: Server, tmp_path: Path) -> None:
    pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
    store = postgres.database()
    one, two = (Apart(store, tmp_path / f"{n}.sqlite") for n in (1, 2))
    same = Apart(store, tmp_path / "1.sqlite")
    one.journal.work_as("Ana", "the tea hut")
    one.journal.append_all(BATCH, small_batch(), 0)
    assert one.journal.acquire(BATCH, AT, UNTIL).mine
    assert not two.journal.acquire(BATCH, AT, UNTIL).mine
    postgres.stop()
    one.journal.append(BATCH, reading(6), 6)
    assert one.journal.away
    assert same.journal.acquire(BATCH, AT, UNTIL).who == "Ana"
    postgres.start()
    assert two.journal.acquire(BATCH, AT, UNTIL, join=True).mine
    one.time += PAUSE
    with pytest.raises(LeaseLost):
        one.journal.append(BATCH, reading(7), 7)
    with Journal(store) as shared:
        assert shared.events(BATCH) == small_batch(readings=6)
    for kitchen in (one, two, same):
        kitchen.journal.close()
