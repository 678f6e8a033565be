"""The same journal on a PostgreSQL server, started for these tests and thrown away after them."""

from pathlib import Path
from threading import Barrier, Thread

import pytest
from event_makers import begin, reading, small_batch
from postgres_server import Server
from sqlalchemy import create_engine, make_url, text
from sqlalchemy.exc import DBAPIError

from assistant.base.errors import StoreUnusable
from assistant.keep import Journal, export_batch, import_batch

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
BATCH = "2026-07-04-1"


@pytest.fixture
def store(postgres: Server) -> str:
    """The address of an empty database."""
    return postgres.database()


def test_events_come_back_when_opened_again(store: str) -> None:
    with Journal(store) as journal:
        journal.append_all(BATCH, small_batch(), 0)
        journal.append(BATCH, reading(6), 6)
    with Journal(store) as journal:
        assert journal.events(BATCH) == (*small_batch(), reading(6))
        assert [(row.id, row.recipe, row.events) for row in journal.batches()] == [
            (BATCH, "blackcurrant", 7)
        ]


def test_lines_go_from_one_kitchen_to_another(store: str, tmp_path: Path) -> None:
    with Journal(tmp_path / "s.sqlite") as one, Journal(store) as two:
        one.append_all(BATCH, small_batch(), 0)
        import_batch(two, export_batch(one, BATCH))
        assert two.events(BATCH) == one.events(BATCH)


@pytest.mark.parametrize("table", ["events", "batches"])
@pytest.mark.parametrize("change", ["UPDATE {} SET {} = 'x'", "DELETE FROM {}", "TRUNCATE {}"])
def test_the_server_itself_refuses_changes(store: str, table: str, change: str) -> None:
    column = {"events": "body", "batches": "recipe"}[table]
    statement = change.format(table + (" CASCADE" if "TRUNCATE" in change else ""), column)
    with Journal(store) as journal:
        journal.append_all(BATCH, small_batch(), 0)
        with (
            pytest.raises(DBAPIError, match="the journal is never edited"),
            journal.engine.begin() as connection,
        ):
            connection.execute(text(statement))
        assert journal.events(BATCH) == small_batch()


def test_sessions_that_write_at_once_are_told_apart(store: str) -> None:
    with Journal(store) as journal:
        journal.append(BATCH, begin(), 0)
    accepted: list[int] = []
    refused: list[str] = []
    start = Barrier(4)

    def session() -> None:
        with Journal(store) as journal:
            seq = len(journal.events(BATCH))
            start.wait()
            for _ in range(20):
                try:
                    journal.append(BATCH, reading(seq), seq)
                except StoreUnusable as refusal:
                    refused.append(str(refusal))
                    return
                accepted.append(seq)
                seq += 1

    threads = [Thread(target=session) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert refused
    assert all("another session is working on this batch" in words for words in refused)
    assert sorted(accepted) == list(range(1, len(accepted) + 1))
    with Journal(store) as journal:
        assert journal.events(BATCH) == small_batch(readings=len(accepted))


def test_sessions_that_make_the_tables_at_once(store: str) -> None:
    opened: list[int] = []
    start = Barrier(4)

    def session() -> None:
        start.wait()
        with Journal(store) as journal:
            opened.append(len(journal.batches()))

    threads = [Thread(target=session) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert opened == [0, 0, 0, 0]


def test_a_newer_store_is_left_alone(store: str) -> None:
    with Journal(store) as journal, journal.engine.begin() as connection:
        connection.execute(text("UPDATE store_version SET version = 99"))
    with pytest.raises(StoreUnusable, match=r"newer Panside .layout 99"):
        Journal(store)


def test_a_database_of_another_program_is_left_alone(store: str) -> None:
    other = make_url(store).set(drivername="postgresql+psycopg")
    engine = create_engine(other)
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE events (boat TEXT)"))
    engine.dispose()
    with pytest.raises(StoreUnusable, match="belongs to another program"):
        Journal(store)
