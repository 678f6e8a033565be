"""`panside backup`, `restore` and `salvage`, as somebody uses them after a bad day."""

import json
from pathlib import Path

import pytest
from event_makers import small_batch
from typer.testing import CliRunner

from assistant.base.errors import PansideError, WrongUse
from assistant.commands.app import app
from assistant.keep import Journal

BATCH = "2026-07-04-1"


@pytest.fixture
def store(tmp_path: Path) -> Path:
    with Journal(tmp_path / "store.sqlite") as journal:
        journal.append_all(BATCH, small_batch(), 0)
    return tmp_path / "store.sqlite"


def run(*args: object) -> str:
    done = CliRunner().invoke(app, [str(a) for a in args])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    assert done.exit_code == 0, done.output
    return done.output


def held(store: Path) -> int:
    with Journal(store) as journal:
        return len(journal.events(BATCH))


@pytest.mark.parametrize("name", ["b.sqlite", "b.jsonl"])
def test_out_and_back(store: Path, tmp_path: Path, name: str) -> None:
    told = run("backup", tmp_path / name, "--store", store)
    assert "read back, the same: 1 batch, 6 events" in told
    put = run("restore", tmp_path / name, "--store", tmp_path / "new.sqlite", "--json")
    assert {"batches": 1, "events": 6}.items() <= json.loads(put).items()
    assert held(tmp_path / "new.sqlite") == 6


def test_without_a_name_it_lies_beside_the_store(store: Path) -> None:
    told = json.loads(run("backup", "--store", store, "--json"))
    assert Path(told["file"]).parent == store.parent
    assert Path(told["file"]).is_file()


def test_a_store_that_holds_something_is_kept(store: Path, tmp_path: Path) -> None:
    run("backup", tmp_path / "b.jsonl", "--store", store)
    with pytest.raises(WrongUse, match=r"holds 1 batch\(es\). --replace sets it aside"):
        run("restore", tmp_path / "b.jsonl", "--store", store)
    told = run("restore", tmp_path / "b.jsonl", "--store", store, "--replace")
    assert "What was there is now" in told
    assert held(store) == held(store.with_name("store.sqlite.aside-1")) == 6


def test_a_damaged_store_is_set_aside_and_the_backup_put_in_its_place(
    store: Path, tmp_path: Path
) -> None:
    run("backup", tmp_path / "b.sqlite", "--store", store)
    store.write_bytes(b"\xa5" * 5_000)
    with pytest.raises(WrongUse, match=r"is damaged or no Panside journal.*--replace"):
        run("restore", tmp_path / "b.sqlite", "--store", store)
    run("restore", tmp_path / "b.sqlite", "--store", store, "--replace")
    assert held(store) == 6
    assert store.with_name("store.sqlite.aside-1").read_bytes() == b"\xa5" * 5_000


def test_a_bad_backup_moves_nothing(store: Path, tmp_path: Path) -> None:
    (tmp_path / "b.jsonl").write_text("{}\n", "utf-8")
    with pytest.raises(PansideError, match="line 1"):
        run("restore", tmp_path / "b.jsonl", "--store", store, "--replace")
    assert held(store) == 6
    assert not store.with_name("store.sqlite.aside-1").exists()


def test_salvage_tells_what_is_lost(store: Path, tmp_path: Path) -> None:
    store.write_bytes(store.read_bytes().replace(b'"value":23.1', b'"value":73.1'))
    told = run("salvage", store, "--to", tmp_path / "new.sqlite")
    assert f"{BATCH}: at least 1 event lost" in told
    assert held(tmp_path / "new.sqlite") == 3
    rest = (tmp_path / "new.sqlite.rest.jsonl").read_text("utf-8").splitlines()
    assert [json.loads(line)["heard"] for line in rest] == ["reading 4", "reading 5"]
