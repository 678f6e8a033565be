"""A server copied by its own tools, put back, drilled; no newer layout without a fresh copy."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.migration import MigrationContext
from alembic.operations import Operations
from alembic.script import ScriptDirectory
from event_makers import begin, reading, small_batch
from postgres_server import Server, running_server
from sqlalchemy import Connection, create_engine, make_url, text
from typer.testing import CliRunner

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.commands.app import app
from assistant.facts.events import event_adapter
from assistant.keep import Journal, SharedJournal, opening, server_backup
from assistant.keep.drill import drill
from assistant.keep.migrating import _STEPS
from assistant.keep.server_backup import back_up_server, bases, put_back
from assistant.past.joining import may_join

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
BATCH = "2026-07-04-1"


def now() -> datetime:
    return datetime.now(UTC)


def run(*args: object) -> str:
    done = CliRunner().invoke(app, [str(a) for a in args])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output


@contextmanager
def as_owner(store: str) -> Iterator[Connection]:
    """A transaction that looks at no layout."""
    engine = create_engine(opening.address(store))
    with engine.begin() as connection:
        yield connection
    engine.dispose()


@pytest.fixture
def archiving() -> Iterator[tuple[Server, Path]]:
    """A server that archives its log, and the folder of its backups."""
    with running_server(" -c archive_mode=on -c archive_command='cp %p ../kept/log/%f'") as server:
        kept = Path(server.folder, "kept")
        (kept / "log").mkdir(parents=True)
        for path in (kept, kept / "log"):
            path.chmod(0o777)
        yield server, kept


@pytest.fixture(scope="module")
def small() -> Iterator[Server]:
    """A server with few databases, quick to copy; it archives nothing."""
    with running_server() as server:
        yield server


def archive(server: Server) -> None:
    """Bring the log so far into the archive."""
    with server.talk() as owner:
        file = owner.execute("SELECT pg_walfile_name(pg_switch_wal())").fetchone()[0]
        for _ in range(200):
            done = owner.execute("SELECT last_archived_wal FROM pg_stat_archiver").fetchone()[0]
            if done is not None and done >= file:
                return
            owner.execute("SELECT pg_sleep(0.05)")
    raise AssertionError("nothing is archived")


def test_a_day_goes_on_from_base_and_log_and_from_the_kitchens(
    archiving: tuple[Server, Path], tmp_path: Path
) -> None:
    """Before the copy, after it, and after the last archived log: nothing is lost."""
    server, kept = archiving
    store, told = server.database(), list[str]()
    hut = SharedJournal(store, tmp_path / "own.sqlite", may_join, told.append)
    hut.append_all(BATCH, small_batch(readings=1), 0)
    assert "1 batches, 2 entries, verified.\n" in run("store", "backup", kept, "--store", store)
    hut.append(BATCH, reading(2), 2)
    archive(server)
    hut.append(BATCH, reading(3), 3)
    hut.append("after", begin("after"), 0)
    found = json.loads(run("store", "drill", kept, "--json", "--store", store))
    assert (found["batches"], found["events"], found["newer"], found["sound"]) == (1, 3, 2, True)
    server.stop()
    data = Path(server.folder, "data")
    data.rename(Path(server.folder, "ruined"))
    assert "Start the server" in run("store", "restore", kept, data)
    server.start()
    hut.append(BATCH, reading(4), 4)
    assert hut.away or any("lacked some" in words for words in told)
    hut.close()
    with SharedJournal(store, tmp_path / "own.sqlite", may_join, told.append) as again:
        assert not again.away
    with Journal(store) as shared:
        assert shared.events(BATCH) == small_batch(readings=4)
        assert shared.events("after") == (begin("after"),)


def test_a_kitchen_in_mid_batch_heals_a_store_that_was_set_back(
    postgres: Server, tmp_path: Path
) -> None:
    store, told = postgres.database(), list[str]()
    with SharedJournal(store, tmp_path / "own.sqlite", may_join, told.append) as hut:
        hut.append_all(BATCH, small_batch(), 0)
        with Journal(store) as owner, owner.engine.begin() as connection:
            connection.execute(text("ALTER TABLE events DISABLE TRIGGER USER"))
            for table in ("events", "news"):
                connection.execute(text(f"DELETE FROM {table} WHERE seq > 2"))
            connection.execute(text("ALTER TABLE events ENABLE TRIGGER USER"))
        hut.append(BATCH, reading(6), 6)
        assert "lacked some of batch" in told[-1]
        with Journal(store) as shared:
            assert shared.events(BATCH) == small_batch(readings=6)


def test_a_spoiled_copy_is_told(small: Server, tmp_path: Path) -> None:
    store, kept = small.database(), tmp_path
    with Journal(store) as journal:
        journal.append_all(BATCH, small_batch(), 0)
    made = back_up_server(opening.address(store), kept, now())
    assert bases(kept) == [made.folder]
    file = made.folder / "PG_VERSION"
    file.write_bytes(file.read_bytes() + b"\n")
    with pytest.raises(StoreUnusable, match="pg_verifybackup failed"):
        put_back(kept, kept / "again")
    with pytest.raises(WrongUse, match="holds no base backup"):
        put_back(made.folder, kept / "again")


def test_a_live_store_that_was_changed_behind_the_guards_is_told(
    small: Server, tmp_path: Path
) -> None:
    store, kept = small.database(), tmp_path
    with Journal(store) as journal:
        journal.append_all(BATCH, small_batch(), 0)
    back_up_server(opening.address(store), kept, now())
    with as_owner(store) as connection:
        connection.execute(text("ALTER TABLE events DISABLE TRIGGER USER"))
        connection.execute(text("UPDATE events SET chain = 'x' WHERE seq = 5"))
    assert drill(opening.address(store), kept).parted == (BATCH,)
    assert drill(opening.address(store), kept, live=False).is_sound


def older(store: str) -> None:
    """A server's store as the second layout left it, with one batch."""
    script = ScriptDirectory(str(_STEPS))
    with as_owner(store) as connection:
        context = MigrationContext.configure(connection)
        with Operations.context(context):
            for step in ("1", "2"):
                script.get_revision(step).module.upgrade()
            context.stamp(script, "2")
        events = small_batch()
        row = {"id": BATCH, "at": events[0].at.isoformat()}
        connection.execute(text("INSERT INTO batches VALUES (:id, 'r', :at)"), row)
        for seq, event in enumerate(events):
            row = {"id": BATCH, "seq": seq, "at": event.at.isoformat(), "kind": event.kind}
            row["body"] = event_adapter.dump_json(event).decode()
            insert = "INSERT INTO events VALUES (:id, :seq, :at, :kind, :body, NULL)"
            connection.execute(text(insert), row)


def test_no_newer_layout_without_a_fresh_backup(small: Server, tmp_path: Path) -> None:
    store, kept = small.database(), tmp_path
    older(store)
    with pytest.raises(StoreUnusable, match=r"older layout \(2.*no backup of it was ever noted"):
        Journal(store)
    back_up_server(opening.address(store), kept, now())
    with as_owner(store) as connection:
        connection.execute(text("UPDATE server_backups SET at = at - interval '25 hours'"))
    with pytest.raises(StoreUnusable, match="its last backup is of"):
        Journal(store)
    back_up_server(opening.address(store), kept, now().replace(microsecond=0, year=2030))
    with Journal(store) as journal:
        assert journal.events(BATCH) == small_batch()


def test_without_a_log_nothing_may_have_come_after_the_backup(
    small: Server, tmp_path: Path
) -> None:
    store = small.database()
    older(store)
    told = run("store", "backup", tmp_path, "--store", store)
    assert "archive_mode = on" in told
    with as_owner(store) as connection:
        row = "INSERT INTO events SELECT batch, 6, at, kind, body FROM events WHERE seq = 5"
        connection.execute(text(row))
    with pytest.raises(StoreUnusable, match="1 entries came after its last backup, and no log"):
        Journal(store)


def test_a_kitchen_can_not_change_the_layout(postgres: Server) -> None:
    store = postgres.database()
    older(store)
    with postgres.talk() as owner:
        owner.execute("CREATE ROLE scullery LOGIN")
    with as_owner(store) as connection:
        connection.execute(text("GRANT SELECT ON ALL TABLES IN SCHEMA public TO scullery"))
    url = make_url(store).set(username="scullery").render_as_string()
    with pytest.raises(StoreUnusable, match=r"older layout.*let its owner run"):
        Journal(url)


@pytest.mark.parametrize("kind", ["file", "server"])
def test_an_older_panside_is_refused_in_a_sentence(
    kind: str, postgres: Server, tmp_path: Path
) -> None:
    """What a later Panside leaves: the next layout's number."""
    store = postgres.database() if kind == "server" else str(tmp_path / "s.sqlite")
    with Journal(store) as journal, journal.engine.begin() as connection:
        connection.execute(text("UPDATE store_version SET version = version + 1"))
        connection.execute(text("UPDATE alembic_version SET version_num = '4'"))
    with pytest.raises(StoreUnusable, match=r"newer Panside \(layout 4, this one reads 3\)") as why:
        Journal(store)
    assert str(why.value).count(". ") == 0


def test_a_file_is_copied_by_another_command(tmp_path: Path) -> None:
    with pytest.raises(WrongUse, match="`panside backup` copies it"):
        back_up_server(opening.address(tmp_path / "s.sqlite"), tmp_path, now())


def test_a_password_is_in_no_list_of_processes(
    small: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    small.ask_for_passwords("carrier")
    with small.talk() as owner:
        owner.execute("ALTER ROLE carrier SUPERUSER")
    url = make_url(small.database()).set(username="carrier", password="pear")
    Journal(url.render_as_string(hide_password=False)).close()
    seen: list[str] = []
    told = server_backup.run
    monkeypatch.setattr(
        server_backup, "run", lambda words, **more: (seen.extend(words), told(words, **more))
    )
    back_up_server(url, tmp_path, now())
    assert seen
    assert not [word for word in seen if "pear" in word]
