"""Backups: the same when they are put back, refused when they are not whole."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from event_makers import any_event, begin, reading, small_batch
from hypothesis import given, settings
from hypothesis import strategies as st
from test_migrating import make_old, make_second

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.facts.events import AnyEvent
from assistant.keep import Journal, back_up, from_lines, restore, salvage, set_aside
from assistant.keep.whole import count, read_all

KINDS = ("backup.sqlite", "backup.jsonl")
NAMES = ("2026-07-04-1", "2026-07-04-2", "other")


def fill(journal: Journal) -> Journal:
    for number, name in enumerate(NAMES):
        journal.append_all(name, small_batch(name, 3 + number), 0)
    return journal


@pytest.fixture
def store(tmp_path: Path) -> Path:
    with Journal(tmp_path / "store.sqlite") as journal:
        fill(journal)
    return tmp_path / "store.sqlite"


@pytest.mark.parametrize("kind", KINDS)
def test_a_backup_put_back_is_the_same(store: Path, tmp_path: Path, kind: str) -> None:
    with Journal(store) as journal:
        made = back_up(journal, tmp_path / kind)
    with Journal(tmp_path / "new.sqlite") as journal:
        assert restore(tmp_path / kind, journal) == made
        assert {name: journal.events(name) for name in journal.names()} == {
            name: small_batch(name, 3 + number) for number, name in enumerate(NAMES)
        }
        journal.append(NAMES[0], reading(4), 4)
    assert made.batches, made.events == (3, 15)
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(
        [kind, "new.sqlite", "store.sqlite"]
    )


@pytest.mark.parametrize("kind", KINDS)
def test_a_backup_takes_in_what_stands_in_the_log(tmp_path: Path, kind: str) -> None:
    with Journal(tmp_path / "store.sqlite") as journal:
        fill(journal)
        assert (tmp_path / "store.sqlite-wal").stat().st_size > 0
        made = back_up(journal, tmp_path / kind)
    assert made.events == 15


@settings(max_examples=15)
@given(st.lists(any_event.filter(lambda e: e.kind != "begin"), max_size=8))
def test_any_event_goes_out_and_back(events: list[AnyEvent]) -> None:
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        file = Path(folder) / "b.jsonl"
        with Journal("sqlite://") as one, Journal("sqlite://") as two:
            one.append_all("b", (begin("b"), *events), 0)
            assert back_up(one, file) == restore(file, two)
            assert two.events("b") == one.events("b")


@pytest.mark.parametrize("kind", KINDS)
def test_a_file_that_is_there_is_not_written_over(store: Path, tmp_path: Path, kind: str) -> None:
    (tmp_path / kind).write_text("kept", "utf-8")
    with Journal(store) as journal, pytest.raises(WrongUse, match="is there already"):
        back_up(journal, tmp_path / kind)
    assert (tmp_path / kind).read_text("utf-8") == "kept"


def test_a_store_that_holds_something_is_not_added_to(store: Path, tmp_path: Path) -> None:
    with Journal(store) as journal:
        back_up(journal, tmp_path / KINDS[1])
        before = count(read_all(journal))
        with pytest.raises(WrongUse, match="holds batches already"):
            restore(tmp_path / KINDS[1], journal)
        assert count(read_all(journal)) == before


def _cut(lines: list[bytes]) -> list[bytes]:
    return lines[:-1]


def _without_one(lines: list[bytes]) -> list[bytes]:
    return lines[:2] + lines[3:]


def _changed(lines: list[bytes]) -> list[bytes]:
    return [lines[0], lines[1].replace(b"21.1", b"71.1"), *lines[2:]]


def _no_event(lines: list[bytes]) -> list[bytes]:
    return [lines[0], b"{}\n", *lines[2:]]


def _no_text(lines: list[bytes]) -> list[bytes]:
    return [lines[0], b"\xff\xfe\n", *lines[2:]]


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        (_cut, "lacks its last line"),
        (_without_one, "other than its last line tells"),
        (_changed, "other than its last line tells"),
        (_no_event, "line 2 of backup.jsonl is not an event"),
        (_no_text, "neither a SQLite file nor text"),
    ],
)
def test_lines_that_are_not_whole_are_not_put_back(
    store: Path, tmp_path: Path, spoil: object, message: str
) -> None:
    file = tmp_path / "backup.jsonl"
    with Journal(store) as journal:
        back_up(journal, file)
    file.write_bytes(b"".join(spoil(file.read_bytes().splitlines(keepends=True))))  # type: ignore[operator]
    with Journal(tmp_path / "new.sqlite") as journal:
        with pytest.raises(WrongUse, match=message):
            restore(file, journal)
        assert journal.names() == []


def test_a_damaged_sqlite_backup_is_not_put_back(store: Path, tmp_path: Path) -> None:
    file = tmp_path / "backup.sqlite"
    with Journal(store) as journal:
        back_up(journal, file)
    file.write_bytes(file.read_bytes().replace(b'"value":21.1', b'"value":71.1'))
    with Journal(tmp_path / "new.sqlite") as journal:
        with pytest.raises(StoreUnusable, match=r"entry 1 of batch 2026-07-04-1 .* is damaged"):
            restore(file, journal)
        assert journal.names() == []


@pytest.mark.parametrize(
    ("changed", "refused"), [(b'"value":26.1', True), (b'"value":21.1', False)]
)
def test_of_an_older_layout_only_events_without_a_seal_are_taken_unproven(
    tmp_path: Path, changed: bytes, refused: bool
) -> None:
    file = tmp_path / "second.sqlite"
    make_second(file)
    file.write_bytes(file.read_bytes().replace(changed, b'"value":76.1'))
    with Journal(tmp_path / "new.sqlite") as journal:
        if not refused:
            assert restore(file, journal).events == 7
            return
        with pytest.raises(StoreUnusable, match=r"entry 6 of batch .* is damaged"):
            restore(file, journal)
        assert journal.names() == []


def test_an_event_without_its_seal_is_not_put_back(store: Path, tmp_path: Path) -> None:
    file = tmp_path / "backup.sqlite"
    with Journal(store) as journal:
        back_up(journal, file)
    with closing(sqlite3.connect(file)) as made:
        for (trigger,) in made.execute(
            "SELECT name FROM sqlite_master WHERE type='trigger'"
        ).fetchall():
            made.execute(f"DROP TRIGGER {trigger}")
        made.execute("UPDATE events SET seal = NULL WHERE seq = 1")
        made.commit()
    with Journal(tmp_path / "new.sqlite") as journal:
        with pytest.raises(StoreUnusable, match=r"entry 1 of batch .* is damaged"):
            restore(file, journal)
        assert journal.names() == []


def test_a_damaged_store_gives_no_backup(store: Path, tmp_path: Path) -> None:
    store.write_bytes(store.read_bytes().replace(b'"value":21.1', b'"value":71.1'))
    for kind in KINDS:
        with Journal(store) as journal, pytest.raises(StoreUnusable, match="is damaged"):
            back_up(journal, tmp_path / kind)
        assert not (tmp_path / kind).exists()


def test_a_backup_of_an_older_layout_can_be_put_back(tmp_path: Path) -> None:
    make_old(tmp_path / "old.sqlite")
    with Journal(tmp_path / "new.sqlite") as journal:
        restore(tmp_path / "old.sqlite", journal)
        assert journal.events(NAMES[0]) == small_batch()


def test_a_backup_as_lines_can_be_imported_too(store: Path, tmp_path: Path) -> None:
    with Journal(store) as journal:
        back_up(journal, tmp_path / "b.jsonl")
    with (tmp_path / "b.jsonl").open(encoding="utf-8") as lines:
        assert len(from_lines(lines)) == 15


def test_a_store_set_aside_is_kept_whole(store: Path) -> None:
    aside = set_aside(store)
    assert not store.exists()
    with Journal(aside) as journal:
        assert journal.events(NAMES[0]) == small_batch(NAMES[0], 3)


def test_a_store_in_use_is_not_set_aside(store: Path) -> None:
    with Journal(store) as journal:
        journal.append(NAMES[0], reading(4), 4)
        with pytest.raises(StoreUnusable, match="another program is holding"):
            set_aside(store)
        journal.append(NAMES[0], reading(5), 5)


def test_salvage_of_a_whole_store_saves_everything(store: Path, tmp_path: Path) -> None:
    found = salvage(store, tmp_path / "new.sqlite")
    assert found.batches == dict(zip(NAMES, (4, 5, 6), strict=True))
    assert (found.rest, found.lost) == ((), {})
    with Journal(store) as one, Journal(tmp_path / "new.sqlite") as two:
        assert count(read_all(one)) == count(read_all(two))


def test_salvage_reads_without_the_first_page_and_out_of_the_log(tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    with Journal(store) as journal:
        fill(journal)
        saved = salvage(store, tmp_path / "one.sqlite")
        assert sum(saved.batches.values()) == 15
    whole = store.read_bytes()
    store.write_bytes(b"\xa5" * 4096 + whole[4096:])
    saved = salvage(store, tmp_path / "two.sqlite")
    assert sum(saved.batches.values()) == 15


def test_salvage_keeps_apart_what_stands_behind_a_gap(tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    with Journal(store) as journal:
        journal.append_all("b", small_batch("b", 200), 0)
    data = store.read_bytes()
    at = data.index(b"reading 100") // 4096 * 4096
    store.write_bytes(data[:at] + bytes(4096) + data[at + 4096 :])
    found = salvage(store, tmp_path / "new.sqlite")
    with Journal(tmp_path / "new.sqlite") as journal:
        saved = journal.events("b")
    assert 1 <= len(saved) <= 100
    assert saved == small_batch("b", 200)[: len(saved)]
    assert found.lost["b"] + len(saved) + len(found.rest) == 201
    assert found.rest[-1].seq == 200


def test_salvage_never_takes_a_changed_event(store: Path, tmp_path: Path) -> None:
    store.write_bytes(store.read_bytes().replace(b'"value":21.1', b'"value":71.1'))
    found = salvage(store, tmp_path / "new.sqlite")
    assert found.batches == dict.fromkeys(NAMES, 1)
    assert found.lost == dict.fromkeys(NAMES, 1)


def test_nothing_to_salvage_is_told(tmp_path: Path) -> None:
    (tmp_path / "soup").write_bytes(bytes(range(256)) * 64)
    with pytest.raises(WrongUse, match="holds no event"):
        salvage(tmp_path / "soup", tmp_path / "new.sqlite")


@pytest.mark.parametrize("readings", [0, 1, 40, 300])
def test_carving_finds_every_row_that_sqlite_finds(tmp_path: Path, readings: int) -> None:
    store = tmp_path / "store.sqlite"
    recipe = {"name": "long", "text": "blackcurrant " * 2_000}
    first = begin("b").model_copy(update={"recipe": recipe})
    with Journal(store) as journal:
        journal.append_all("b", (first, *small_batch("b", readings)[1:]), 0)
    salvage(store, tmp_path / "new.sqlite")
    with (
        closing(sqlite3.connect(store)) as one,
        closing(sqlite3.connect(tmp_path / "new.sqlite")) as two,
    ):
        rows = "SELECT * FROM events ORDER BY batch, seq"
        assert one.execute(rows).fetchall() == two.execute(rows).fetchall()
