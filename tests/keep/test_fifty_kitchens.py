"""What is written down for many kitchens, tried: a replica to look at, partitions by year."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from event_makers import AT, begin, reading, small_batch
from postgres_server import Server, running_server
from sqlalchemy import create_engine, make_url, text
from sqlalchemy.exc import DBAPIError

from assistant.base.errors import StoreUnusable
from assistant.keep import Journal, SharedJournal, opening
from assistant.keep.audit import audit
from assistant.keep.roles import check, prepare
from assistant.keep.server_backup import back_up_server, put_back
from assistant.past.joining import may_join
from assistant.past.lookback import LookBack

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def replica(server: Server) -> Iterator[Server]:
    """A second server that follows the first."""
    with server.talk() as owner:
        owner.execute("CREATE DATABASE first")
    kept = Path(server.folder, "copies")
    kept.mkdir()
    Journal(server.address("first")).close()
    back_up_server(opening.address(server.address("first")), kept, datetime.now(UTC))
    second = replace(server, folder=str(Path(server.folder, "second")), more="")
    Path(second.folder).mkdir()
    Path(second.folder).chmod(0o777)
    data = Path(second.folder, "data")
    put_back(kept, data)
    with (data / "postgresql.auto.conf").open("a", encoding="utf-8") as settings:
        settings.write(f"primary_conninfo = 'host={server.folder} user=cook'\n")
    (data / "standby.signal").touch()
    second.start()
    try:
        yield second
    finally:
        second.stop()


def test_an_office_looks_at_a_replica_and_a_kitchen_goes_on_alone(tmp_path: Path) -> None:
    with running_server() as server, replica(server) as second:
        with Journal(server.address("first")) as journal:
            journal.append_all("b", small_batch("b"), 0)
        with server.talk() as owner, second.talk() as follower:
            wanted = owner.execute("SELECT pg_current_wal_lsn()").fetchone()[0]
            for _ in range(100):
                row = follower.execute("SELECT pg_last_wal_replay_lsn() >= %s::pg_lsn", [wanted])
                if row.fetchone()[0]:
                    break
                follower.execute("SELECT pg_sleep(0.05)")
        with Journal(second.address("first")) as office:
            assert office.events("b") == small_batch("b")
            assert [brief.batch for brief in LookBack(office).batches()] == ["b"]
            with pytest.raises(StoreUnusable, match="can only be read now"):
                office.append("b", reading(6), 6)
        told: list[str] = []
        own = tmp_path / "own.sqlite"
        with SharedJournal(second.address("first"), own, may_join, told.append) as hut:
            assert hut.events("b") == small_batch("b")
            hut.append("b", reading(6), 6)
            assert hut.events("b") == small_batch("b", readings=6)
        assert "can only be read now" in told[0]
        assert "Going on in this kitchen's own journal" in told[0]


PARTITIONS = (ROOT / "assistant" / "units" / "partitions.sql").read_text("utf-8")


def test_partitions_by_year_change_nothing_for_a_kitchen(postgres: Server) -> None:
    store = postgres.database()
    login = f"{make_url(store).database}_partitioned"
    with Journal(store) as owner:
        owner.append_all("2025-07-04-1", small_batch("2025-07-04-1"), 0)
    engine = create_engine(opening.address(store))
    with engine.begin() as connection:
        connection.exec_driver_sql(PARTITIONS.replace("%", "%%"))
        connection.execute(text(f'CREATE ROLE "{login}" LOGIN'))
    engine.dispose()
    with Journal(store) as owner:
        prepare(owner, [login])
        assert all(not one.wrong for one in audit(owner))
    kitchen = make_url(store).set(username=login).render_as_string()
    with Journal(kitchen) as hut:
        assert hut.events("2025-07-04-1") == small_batch("2025-07-04-1")
        hut.append_all("2026-07-04-1", small_batch("2026-07-04-1"), 0)
        hut.append("2026-07-04-1", reading(6), 6)
        hut.append_all("odd", (begin("odd").model_copy(update={"at": AT}),), 0)
        assert hut.names() == ["2025-07-04-1", "2026-07-04-1", "odd"]
        assert check(hut).is_sound
        for table in ("events", "events_2026"):
            with pytest.raises(DBAPIError), hut.engine.begin() as connection:
                connection.execute(text(f"DELETE FROM {table}"))
    with Journal(store) as owner, owner.engine.connect() as connection:
        for table in ("events", "events_2025"):
            with pytest.raises(DBAPIError, match="never edited"):
                connection.execute(text(f"DELETE FROM {table}"))
            connection.rollback()
        held = text("SELECT count(*) FROM events_2026")
        assert connection.scalar(held) == 7
