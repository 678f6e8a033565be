"""The journal: what goes in comes out, in order, and stays."""

import sqlite3
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from threading import Thread

import pytest
from event_makers import AT, any_event, begin, reading, small_batch
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.facts.events import AnyEvent, Note, Onward
from assistant.keep import BatchRow, Journal

BATCH = "2026-07-04-1"


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal(tmp_path / "store.sqlite") as opened:
        yield opened


def fill(journal: Journal, events: tuple[AnyEvent, ...], batch: str = BATCH) -> None:
    for seq, event in enumerate(events):
        journal.append(batch, event, seq)


def test_events_come_back_in_order(journal: Journal) -> None:
    events = small_batch()
    fill(journal, events)
    assert journal.events(BATCH) == events


def test_events_are_there_when_opened_again(tmp_path: Path) -> None:
    for seq, event in enumerate(small_batch()):
        with Journal(tmp_path / "store.sqlite") as journal:
            journal.append(BATCH, event, seq)
    with Journal(tmp_path / "store.sqlite") as journal:
        assert journal.events(BATCH) == small_batch()


def test_an_unknown_batch_has_no_events(journal: Journal) -> None:
    assert journal.events("nowhere") == ()
    assert journal.batches() == []


def test_batches_are_listed_the_oldest_first(journal: Journal) -> None:
    later = begin("later", "rhubarb").model_copy(update={"at": AT + timedelta(days=1)})
    journal.append("later", later, 0)
    fill(journal, small_batch(readings=3))
    assert journal.batches() == [
        BatchRow(BATCH, "blackcurrant", AT, 4, AT + timedelta(seconds=3)),
        BatchRow("later", "rhubarb", later.at, 1, later.at),
    ]


def test_several_events_go_in_together(journal: Journal) -> None:
    journal.append_all(BATCH, small_batch(), 0)
    journal.append_all(BATCH, (reading(6), reading(7)), 6)
    journal.append_all(BATCH, (), 0)
    assert journal.events(BATCH) == (*small_batch(), reading(6), reading(7))


@pytest.mark.parametrize("first", [reading(1), begin("another-batch")])
def test_a_batch_must_begin_with_its_beginning(journal: Journal, first: AnyEvent) -> None:
    with pytest.raises(WrongUse, match=f"first entry of batch {BATCH}"):
        journal.append(BATCH, first, 0)
    assert journal.batches() == []


def test_the_second_of_two_sessions_is_refused_and_nothing_is_lost(tmp_path: Path) -> None:
    with Journal(tmp_path / "s.sqlite") as one, Journal(tmp_path / "s.sqlite") as two:
        fill(one, small_batch())
        known = len(two.events(BATCH))
        one.append(BATCH, reading(6), known)
        with pytest.raises(StoreUnusable, match="another session is working on this batch"):
            two.append(BATCH, reading(99), known)
        with pytest.raises(StoreUnusable, match="another session is working on this batch"):
            two.append(BATCH, begin(), 0)
        assert one.events(BATCH) == two.events(BATCH) == (*small_batch(), reading(6))


def test_several_events_are_refused_together(journal: Journal) -> None:
    fill(journal, small_batch())
    with pytest.raises(StoreUnusable, match="another session"):
        journal.append_all(BATCH, (reading(5), reading(6)), 5)
    assert journal.events(BATCH) == small_batch()


def test_a_gap_is_refused(journal: Journal) -> None:
    fill(journal, small_batch())
    with pytest.raises(StoreUnusable, match=r"holds 6 entries .* where 9 were written"):
        journal.append(BATCH, reading(9), 9)
    assert len(journal.events(BATCH)) == 6


def test_sessions_on_different_batches_do_not_meet(tmp_path: Path) -> None:
    with Journal(tmp_path / "s.sqlite") as journal:
        names = [f"batch-{n}" for n in range(4)]
        threads = [Thread(target=fill, args=(journal, small_batch(n, 10), n)) for n in names]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert [journal.events(n) for n in names] == [small_batch(n, 10) for n in names]


@pytest.mark.parametrize("table", ["events", "batches"])
@pytest.mark.parametrize("change", ["UPDATE {} SET {} = 'x'", "DELETE FROM {}"])
def test_the_file_itself_refuses_changes(tmp_path: Path, table: str, change: str) -> None:
    with Journal(tmp_path / "s.sqlite") as journal:
        fill(journal, small_batch())
    column = {"events": "body", "batches": "recipe"}[table]
    file = sqlite3.connect(tmp_path / "s.sqlite")
    with pytest.raises(sqlite3.IntegrityError, match="the journal is never edited"):
        file.execute(change.format(table, column))
    file.close()
    with Journal(tmp_path / "s.sqlite") as journal:
        assert journal.events(BATCH) == small_batch()


def test_no_way_to_change_or_remove_is_offered() -> None:
    offered = {name for name in vars(Journal) if not name.startswith("_")}
    assert offered == {
        "append", "append_all", "events", "batches", "names", "has_mark", "lengths", "marked",
        "close", "engine", "store", "called", "carrying", "asked", "acquire", "renew", "release",
        "lease", "work_as", "go_on_as", "length", "sign", "take_in",
    }  # fmt: skip


def test_a_message_is_written_once(journal: Journal) -> None:
    fill(journal, small_batch())
    journal.append_all(BATCH, (reading(6),), 6, "message-1")
    assert journal.has_mark(BATCH, "message-1")
    assert not journal.has_mark(BATCH, "message-2")
    with pytest.raises(StoreUnusable):
        journal.append_all(BATCH, (reading(7),), 7, "message-1")
    assert len(journal.events(BATCH)) == 7


def test_every_commit_waits_for_the_disk(journal: Journal) -> None:
    with journal.engine.connect() as connection:
        found = {
            pragma: connection.exec_driver_sql(f"PRAGMA {pragma}").scalar()
            for pragma in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    # Values of PRAGMA synchronous: sqlite.org, "Pragma statements", 2 is FULL.
    assert found == {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "busy_timeout": 5000,
    }


@settings(max_examples=25)
@given(st.lists(any_event, max_size=8))
def test_any_event_comes_back_as_it_went_in(events: list[AnyEvent]) -> None:
    with Journal("sqlite://") as journal:
        journal.append_all(BATCH, (begin(), *events), 0)
        assert journal.events(BATCH) == (begin(), *events)


def test_what_is_no_text_is_refused_and_the_batch_goes_on(journal: Journal) -> None:
    fill(journal, small_batch())
    with pytest.raises(StoreUnusable, match="can't be written"):
        journal.append(BATCH, Note.model_construct(at=AT, text="\udcff", heard=""), 6)
    journal.append(BATCH, Onward(at=AT), 6)
    assert len(journal.events(BATCH)) == 7
