"""A store's file carried elsewhere: whole, or refused with the way out, never silently less."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from event_makers import AT, begin, reading, small_batch
from sqlalchemy import create_engine

from assistant.base.errors import StoreUnusable
from assistant.keep import Journal, back_up, set_aside

BATCH = "2026-07-04-1"
LOG = "-wal"


@pytest.fixture
def live(tmp_path: Path) -> Iterator[Journal]:
    """A store that somebody works on."""
    with Journal(tmp_path / "live.sqlite") as journal:
        yield journal


def write(journal: Journal, *numbers: int) -> None:
    for number in numbers:
        journal.append(BATCH, reading(number) if number else begin(), number)


def carried(journal: Journal, to: Path, *tails: str) -> Path:
    """The file copied by hand, with what is named of the files beside it."""
    for tail in ("", *tails):
        shutil.copy(f"{journal.store}{tail}", f"{to}{tail}")
    return to


def test_a_new_store_has_its_tables_without_its_log(live: Journal, tmp_path: Path) -> None:
    with Journal(carried(live, tmp_path / "copy.sqlite")) as copy:
        assert copy.batches() == []


def test_a_copy_without_the_log_is_refused_with_the_way_out(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1, 2)
    copy = carried(live, tmp_path / "copy.sqlite")
    before = copy.read_bytes()
    with pytest.raises(StoreUnusable, match=r"lost its log.*copy it again.*panside salvage"):
        Journal(copy)
    assert [p.name for p in tmp_path.glob("copy*")] == ["copy.sqlite"]
    assert copy.read_bytes() == before


def test_a_copy_with_the_log_is_whole(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1, 2)
    with Journal(carried(live, tmp_path / "copy.sqlite", LOG)) as copy:
        assert copy.events(BATCH) == small_batch(readings=2)


def test_a_copy_of_a_closed_store_is_whole(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1, 2)
    live.close()
    with Journal(carried(live, tmp_path / "copy.sqlite")) as copy:
        assert copy.events(BATCH) == small_batch(readings=2)
        write(copy, 3)


def test_the_file_itself_is_never_more_than_some_turns_behind(
    live: Journal, tmp_path: Path
) -> None:
    write(live, *range(60))
    copy = carried(live, tmp_path / "copy.sqlite")
    with closing(sqlite3.connect(copy)) as base:
        (held,) = base.execute("SELECT count(*) FROM events").fetchone()
    assert 40 <= held <= 60


def test_a_store_without_its_tables_is_refused(tmp_path: Path) -> None:
    """As an earlier Panside left it: all that it held stood in the log."""
    engine = create_engine(f"sqlite:///{tmp_path / 'old.sqlite'}")
    with engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA journal_mode=WAL")
    engine.dispose()
    with pytest.raises(StoreUnusable, match=r"copied without its log.*panside restore BACKUP"):
        Journal(tmp_path / "old.sqlite")


def test_the_log_of_another_store_is_not_taken(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1)
    copy = carried(live, tmp_path / "copy.sqlite", LOG)
    with Journal(tmp_path / "other.sqlite") as other:
        first = begin("other").model_copy(update={"at": AT.replace(minute=3)})
        other.append("other", first, 0)
        other.append("other", reading(1), 1)
        shutil.copy(f"{other.store}{LOG}", f"{copy}{LOG}")
    _refused(copy)


def test_an_older_log_of_the_same_store_is_not_taken(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1)
    copy = carried(live, tmp_path / "copy.sqlite", LOG)
    write(live, *range(2, 60))
    shutil.copy(live.store, copy)
    _refused(copy)


def test_a_log_that_outlived_an_exchanged_file_is_not_taken(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1)
    back_up(live, tmp_path / "backup.sqlite")
    write(live, *range(2, 60))
    copy = carried(live, tmp_path / "copy.sqlite", LOG)
    shutil.copy(tmp_path / "backup.sqlite", copy)
    _refused(copy)


def _refused(copy: Path) -> None:
    files = (copy, copy.with_name(copy.name + LOG))
    before = [file.read_bytes() for file in files]
    with pytest.raises(StoreUnusable, match=r"has a log, .*-wal, that is not its own"):
        Journal(copy)
    assert [file.read_bytes() for file in files] == before


def test_two_programs_that_come_and_go_leave_it_whole(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1)
    with Journal(live.store) as other:
        write(other, 2)
    write(live, 3)
    with pytest.raises(StoreUnusable, match="lost its log"):
        Journal(carried(live, tmp_path / "early.sqlite"))
    with Journal(live.store) as other:
        live.close()
        write(other, 4)
        with pytest.raises(StoreUnusable, match="lost its log"):
            Journal(carried(other, tmp_path / "late.sqlite"))
    with Journal(carried(live, tmp_path / "copy.sqlite")) as copy:
        assert copy.events(BATCH) == small_batch(readings=4)


def test_who_forgets_to_close_leaves_it_whole(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "s.sqlite")
    write(journal, 0, 1)
    del journal
    with Journal(tmp_path / "s.sqlite") as again:
        assert again.events(BATCH) == small_batch(readings=1)


def test_a_store_set_aside_in_mid_batch_can_be_read(live: Journal, tmp_path: Path) -> None:
    write(live, 0, 1)
    copy = carried(live, tmp_path / "copy.sqlite", LOG)
    with Journal(set_aside(copy)) as aside:
        assert aside.events(BATCH) == small_batch(readings=1)
