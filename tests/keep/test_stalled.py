"""A server that has stopped without a word, a table that somebody holds, a door that stays shut."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from event_makers import reading, small_batch
from postgres_server import Server
from sqlalchemy import make_url

from assistant.base.errors import StoreAway, StoreUnusable
from assistant.keep import Journal, SharedJournal, Summaries, Summary
from assistant.keep.shared import PAUSE
from assistant.past.joining import may_join, told

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="finds processes in /proc")
BATCH = "2026-07-04-1"
SOON = 3.0
"""A cook is told within that. [s]"""


@contextmanager
def told_soon() -> Iterator[None]:
    begun = time.monotonic()
    yield
    assert time.monotonic() - begun < SOON


class Kitchen:
    def __init__(self, store: str, own: Path) -> None:
        self.told: list[str] = []
        self.time = 0.0
        self.journal = SharedJournal(
            store, own, may_join, self.told.append, told, lambda: self.time
        )


def test_twenty_turns_while_the_server_stands_still(postgres: Server, tmp_path: Path) -> None:
    store = postgres.database()
    kitchen = Kitchen(store, tmp_path / "own.sqlite")
    kitchen.journal.append_all(BATCH, small_batch(), 0)
    with postgres.stalled():
        for number in range(6, 26):
            with told_soon():
                kitchen.journal.append(BATCH, reading(number), number)
            if number % 7 == 0:
                kitchen.time += PAUSE
        with told_soon():
            assert kitchen.journal.events(BATCH) == small_batch(readings=25)
        assert kitchen.journal.away
        assert len(kitchen.told) == 1
    kitchen.time += PAUSE
    kitchen.journal.append(BATCH, reading(26), 26)
    assert not kitchen.journal.away
    with Journal(store) as shared:
        assert shared.names() == [BATCH]
        assert shared.events(BATCH) == small_batch(readings=26)
    kitchen.journal.close()


def test_who_starts_while_the_server_stands_still_goes_on_alone(
    postgres: Server, tmp_path: Path
) -> None:
    store = postgres.database()
    Journal(store).close()
    with postgres.stalled(), told_soon():
        kitchen = Kitchen(store, tmp_path / "own.sqlite")
        kitchen.journal.append_all(BATCH, small_batch(), 0)
        assert "Going on in this kitchen's own journal" in kitchen.told[0]
        kitchen.journal.close()


def test_a_table_that_somebody_holds_is_not_waited_for(postgres: Server, tmp_path: Path) -> None:
    import psycopg

    store = postgres.database()
    kitchen = Kitchen(store, tmp_path / "own.sqlite")
    kitchen.journal.append_all(BATCH, small_batch(), 0)
    holder = psycopg.connect(store)
    holder.execute("LOCK TABLE events IN ACCESS EXCLUSIVE MODE")
    with told_soon():
        kitchen.journal.append(BATCH, reading(6), 6)
    assert kitchen.journal.away
    holder.close()
    kitchen.time += PAUSE
    kitchen.journal.append(BATCH, reading(7), 7)
    with Journal(store) as shared:
        assert shared.events(BATCH) == small_batch(readings=7)
    kitchen.journal.close()


def test_a_look_back_goes_on_with_what_is_here(postgres: Server, tmp_path: Path) -> None:
    kitchen = Kitchen(postgres.database(), tmp_path / "own.sqlite")
    kitchen.journal.append_all(BATCH, small_batch(), 0)

    def brief(events: tuple[object, ...]) -> Summary:
        return Summary(BATCH, len(events), "2026", "2026", "r", "f", True, "", "", "{}")

    postgres.stop()
    try:
        found = Summaries(kitchen.journal, "1", brief).latest()
        assert [row.batch for row in found] == [BATCH]
        assert kitchen.journal.away
    finally:
        postgres.start()
        kitchen.journal.close()


def _no_such_database(server: Server) -> str:
    return server.address("nowhere")


def _no_such_user(server: Server) -> str:
    url = make_url(server.database()).set(username="ferryman")
    return url.render_as_string(hide_password=False)


def _wrong_password(server: Server) -> str:
    server.ask_for_passwords("guest")
    url = make_url(server.database()).set(username="guest", password="plum")
    return url.render_as_string(hide_password=False)


def _no_password(server: Server) -> str:
    server.ask_for_passwords("visitor")
    return make_url(server.database()).set(username="visitor").render_as_string()


@pytest.mark.parametrize(
    "address", [_no_such_database, _no_such_user, _wrong_password, _no_password]
)
def test_a_door_that_stays_shut_is_an_error_and_not_away(
    postgres: Server, tmp_path: Path, address: Callable[[Server], str]
) -> None:
    with pytest.raises(StoreUnusable, match="does not let this kitchen in") as refusal:
        Kitchen(address(postgres), tmp_path / "own.sqlite")
    assert not isinstance(refusal.value, StoreAway)
    assert "plum" not in str(refusal.value)


def test_a_door_that_is_shut_in_mid_batch_stops_nobody(postgres: Server, tmp_path: Path) -> None:
    postgres.ask_for_passwords("sailor")
    with postgres.talk() as owner:
        owner.execute("ALTER ROLE sailor SUPERUSER")
    store = make_url(postgres.database()).set(username="sailor", password="pear")
    kitchen = Kitchen(store.render_as_string(hide_password=False), tmp_path / "own.sqlite")
    kitchen.journal.append_all(BATCH, small_batch(), 0)
    postgres.stop()
    kitchen.journal.append(BATCH, reading(6), 6)
    postgres.start()
    with postgres.talk() as owner:
        owner.execute("ALTER ROLE sailor PASSWORD 'quince'")
    for number in (7, 8):
        kitchen.time += PAUSE
        kitchen.journal.append(BATCH, reading(number), number)
    assert kitchen.journal.events(BATCH) == small_batch(readings=8)
    assert len(kitchen.told) == 2
    assert "does not let this kitchen in" in kitchen.told[1]
    kitchen.journal.close()
