"""Stores of an older layout: brought to this one with nothing lost, or left alone."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.operations import Operations
from alembic.script import ScriptDirectory
from event_makers import reading, small_batch
from sqlalchemy import create_engine, inspect

from assistant.base.errors import StoreUnusable
from assistant.facts.events import event_adapter
from assistant.keep import Journal, migrating, schema
from assistant.keep.migrating import _STEPS
from assistant.keep.seal import link, seal

BATCH = "2026-07-04-1"


def make_old(file: Path) -> None:
    """A store of the first layout with one batch, as the first Panside left it."""
    engine = create_engine(f"sqlite:///{file}")
    script = ScriptDirectory(str(_STEPS))
    with engine.begin() as connection:
        with Operations.context(MigrationContext.configure(connection)):
            script.get_revision("1").module.upgrade()
        events = small_batch()
        connection.exec_driver_sql(
            "INSERT INTO batches VALUES (?, 'blackcurrant', ?)", (BATCH, events[0].at.isoformat())
        )
        for seq, event in enumerate(events):
            body = event_adapter.dump_json(event).decode()
            row = (BATCH, seq, event.at.isoformat(), event.kind, body)
            connection.exec_driver_sql("INSERT INTO events VALUES (?, ?, ?, ?, ?)", row)
    engine.dispose()
    with closing(sqlite3.connect(file)) as made:
        made.execute("PRAGMA journal_mode=WAL")


def make_second(file: Path) -> None:
    """The same a layout later, gone on with by one event, which has a seal."""
    make_old(file)
    engine = create_engine(f"sqlite:///{file}")
    script = ScriptDirectory(str(_STEPS))
    event = reading(6)
    body = event_adapter.dump_json(event).decode()
    with engine.begin() as connection:
        context = MigrationContext.configure(connection)
        with Operations.context(context):
            script.get_revision("2").module.upgrade()
            context.stamp(script, "2")
        row = (BATCH, 6, event.at.isoformat(), event.kind, body, seal(BATCH, 6, body))
        connection.exec_driver_sql("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?)", row)
    engine.dispose()


@pytest.fixture
def old(tmp_path: Path) -> Path:
    make_old(tmp_path / "store.sqlite")
    return tmp_path / "store.sqlite"


def _columns(file: Path) -> dict[str, object]:
    engine = create_engine(f"sqlite:///{file}")
    look = inspect(engine)
    found = {
        name: (
            sorted((c["name"], str(c["type"]), c["nullable"]) for c in look.get_columns(name)),
            sorted(str(i["name"]) for i in look.get_indexes(name)),
            look.get_pk_constraint(name)["constrained_columns"],
        )
        for name in look.get_table_names()
    }
    with closing(sqlite3.connect(file)) as made:
        triggers = made.execute("SELECT sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    engine.dispose()
    return found | {"triggers": sorted(triggers)}


def test_an_old_store_goes_on(old: Path) -> None:
    with Journal(old) as journal:
        assert journal.events(BATCH) == small_batch()
        journal.append(BATCH, reading(6), 6)
    with Journal(old) as journal:
        assert journal.events(BATCH) == (*small_batch(), reading(6))


def test_a_migrated_store_is_like_a_new_one(old: Path, tmp_path: Path) -> None:
    Journal(old).close()
    Journal(tmp_path / "new.sqlite").close()
    assert _columns(old) == _columns(tmp_path / "new.sqlite")


def test_all_steps_from_nothing_make_the_tables_that_the_code_knows(tmp_path: Path) -> None:
    engine = create_engine(f"sqlite:///{tmp_path / 'steps.sqlite'}")
    with engine.begin() as connection:
        migrating.migrate(connection, None)
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, schema.metadata) == []
        assert context.get_current_revision() == schema.REVISIONS[-1]
    engine.dispose()


def test_the_steps_are_the_layouts_that_the_code_names() -> None:
    script = ScriptDirectory(str(_STEPS))
    assert [s.revision for s in script.walk_revisions()][::-1] == list(schema.REVISIONS)


def test_a_copy_is_made_first(old: Path) -> None:
    Journal(old).close()
    copy = old.with_name("store.sqlite.layout-1")
    with closing(sqlite3.connect(copy)) as kept:
        assert kept.execute("SELECT version FROM store_version").fetchone() == (1,)
        assert kept.execute("SELECT count(*) FROM events").fetchone() == (6,)


def test_an_earlier_copy_is_not_written_over(old: Path) -> None:
    earlier = old.with_name("store.sqlite.layout-1")
    earlier.write_text("kept", "utf-8")
    Journal(old).close()
    assert earlier.read_text("utf-8") == "kept"
    assert old.with_name("store.sqlite.layout-1-2").is_file()


def test_a_step_that_fails_leaves_the_store_as_it_was(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def power_cut(*_: object) -> None:
        raise RuntimeError("the lights went out")

    monkeypatch.setattr(MigrationContext, "stamp", power_cut)
    with pytest.raises(RuntimeError, match="the lights"):
        Journal(old)
    with closing(sqlite3.connect(old)) as kept:
        tables = {row[0] for row in kept.execute("SELECT name FROM sqlite_master")}
        assert "summaries" not in tables
        assert kept.execute("SELECT version FROM store_version").fetchone() == (1,)
    monkeypatch.undo()
    with Journal(old) as journal:
        assert journal.events(BATCH) == small_batch()


def test_a_damaged_old_store_is_not_migrated(old: Path) -> None:
    whole = bytearray(old.read_bytes())
    page = int.from_bytes(whole[16:18], "big")
    whole[2 * page : 3 * page] = bytes(range(256)) * (page // 256)
    old.write_bytes(whole)
    with pytest.raises(StoreUnusable, match="damaged"):
        Journal(old)
    assert old.read_bytes()[100:] == whole[100:]


def test_an_unknown_layout_is_refused(old: Path) -> None:
    Journal(old).close()
    with closing(sqlite3.connect(old)) as store:
        store.execute("UPDATE alembic_version SET version_num = 'pear'")
        store.commit()
    with pytest.raises(StoreUnusable, match=r"newer Panside .layout pear"):
        Journal(old)


def test_old_events_get_seals_and_links(old: Path) -> None:
    with Journal(old) as journal:
        journal.append(BATCH, reading(6), 6)
    before = ""
    with closing(sqlite3.connect(old)) as made:
        rows = made.execute("SELECT seq, body, seal, chain FROM events ORDER BY seq").fetchall()
        for seq, body, sealed, linked in rows:
            before = link(before, BATCH, seq, body)
            assert (sealed, linked) == (seal(BATCH, seq, body), before)
        assert len(rows) == 7
        with pytest.raises(sqlite3.IntegrityError, match="never edited"):
            made.execute("UPDATE events SET body = ''")


def test_a_changed_event_of_an_older_layout_is_found_out_after_the_steps(tmp_path: Path) -> None:
    """A seal that was there is kept: it must not be made anew for what was spoiled before."""
    file = tmp_path / "store.sqlite"
    make_second(file)
    file.write_bytes(file.read_bytes().replace(b'"value":26.1', b'"value":76.1'))
    with Journal(file) as journal, pytest.raises(StoreUnusable, match=r"entry 6 .* is damaged"):
        journal.events(BATCH)


def test_a_second_name_that_an_earlier_merge_gave_is_found_by_its_lot(old: Path) -> None:
    with closing(sqlite3.connect(old)) as made:
        for name in (f"{BATCH}-b", "2026-07-04-2"):
            made.execute("INSERT INTO batches VALUES (?, 'rhubarb', '')", (name,))
        made.commit()
    with Journal(old) as journal:
        assert journal.carrying(BATCH) == [BATCH, f"{BATCH}-b"]
