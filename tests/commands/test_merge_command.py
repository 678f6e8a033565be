"""`panside merge`: another kitchen's store, a backup, the same twice."""

import json
import shutil
from collections.abc import Iterable
from pathlib import Path

import pytest
from event_makers import AT, begin, reading, small_batch
from season import FILLED, days, journal
from typer.testing import CliRunner

from assistant.base.errors import StoreAway, StoreUnusable
from assistant.commands.app import app
from assistant.facts.events import AnyEvent, Used
from assistant.keep import Count, Journal, back_up, backup
from assistant.keep.whole import Row

BATCH = "2026-07-11-1"


def make(file: Path, *batches: tuple[AnyEvent, ...]) -> Path:
    with Journal(file) as kept:
        for events in batches:
            kept.append_all(events[0].batch, events, 0)  # type: ignore[union-attr]
    return file


def run(*args: object) -> str:
    done = CliRunner().invoke(app, [str(a) for a in args])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output


def test_another_store_is_added_and_twice_is_once(tmp_path: Path) -> None:
    one = make(tmp_path / "one.sqlite", small_batch("a"))
    later = begin("b").model_copy(update={"at": AT.replace(hour=18)})
    two = make(tmp_path / "two.sqlite", small_batch("a", 7), (later, reading(1)))
    told = run("merge", two, "--store", one)
    assert "Batch a went on by 2 event(s)." in told
    assert "2 batch(es) added or made longer, 0 were there already." in told
    before = (two.read_bytes(), one.read_bytes())
    assert "0 batch(es) added or made longer, 2 were there" in run("merge", two, "--store", one)
    assert two.read_bytes() == before[0]
    with Journal(one) as kept:
        assert kept.events("a") == small_batch("a", 7)


def test_a_backup_is_added(tmp_path: Path) -> None:
    with Journal(make(tmp_path / "one.sqlite", small_batch("a"))) as kept:
        back_up(kept, tmp_path / "b.jsonl")
    run("merge", tmp_path / "b.jsonl", "--store", tmp_path / "new.sqlite")
    with Journal(tmp_path / "new.sqlite") as kept:
        assert kept.events("a") == small_batch("a")


def test_more_bottles_taken_than_there_were_is_told(tmp_path: Path) -> None:
    common = tuple(journal(BATCH))
    one, two = (
        make(tmp_path / f"{n}.sqlite", (*common, Used(at=FILLED + days(n), count=6)))
        for n in (1, 2)
    )
    told = run("merge", two, "--store", one, "--json")
    assert json.loads(told.splitlines()[0])["disputed"] == [
        {"kind": "used", "count": 6, "to": ""}
    ]  # fmt: skip
    with Journal(one) as kept:
        assert len(kept.events(BATCH)) == len(common) + 2
    three = make(tmp_path / "3.sqlite", (*common, Used(at=FILLED + days(3), count=6)))
    assert "What both wrote can't all be" in run("merge", three, "--store", one)


def test_a_shared_store_out_of_reach_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    with pytest.raises(StoreAway, match="out of reach"):
        run("merge", "--store", "postgresql://cook@127.0.0.1:1/larder")


def test_a_store_that_goes_on_meanwhile_is_added_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = make(tmp_path / "one.sqlite", small_batch("a"))
    with Journal(make(tmp_path / "two.sqlite", small_batch("b"))) as two:
        counted = backup.count

        def meanwhile(rows: Iterable[Row]) -> Count:
            found = counted(rows)
            held = len(two.events("b"))
            two.append("b", reading(held), held)
            return found

        monkeypatch.setattr(backup, "count", meanwhile)
        run("merge", two.store, "--store", one)
        monkeypatch.undo()
        with Journal(one) as kept:
            assert kept.events("b") == small_batch("b")
        run("merge", two.store, "--store", one)
        with Journal(one) as kept:
            assert kept.events("b") == two.events("b")


def test_a_copy_that_lost_its_log_is_not_added(tmp_path: Path) -> None:
    with Journal(tmp_path / "live.sqlite") as live:
        live.append_all("a", small_batch("a"), 0)
        shutil.copy(live.store, tmp_path / "copy.sqlite")
    with pytest.raises(StoreUnusable, match="lost its log"):
        run("merge", tmp_path / "copy.sqlite", "--store", tmp_path / "one.sqlite")
