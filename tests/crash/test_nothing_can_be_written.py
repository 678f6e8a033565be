"""A full disk, a disk that can only be read: what is there can be looked at and carried away."""

import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from event_makers import reading
from season import journal as season
from test_migrating import make_old
from typer.testing import CliRunner

from assistant.base.errors import StoreUnusable
from assistant.commands.app import app
from assistant.keep import Journal

BATCH = "2026-07-11-1"
Spoil = Callable[[Path], None]


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small disk, where this user may mount one."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=900k", "tmpfs", str(disk)]
    if shutil.which("mount") is None or subprocess.run(mount, capture_output=True).returncode:
        pytest.skip("this user may not mount a disk")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def full(disk: Path) -> None:
    with suppress(OSError), (disk / "ballast").open("wb", buffering=0) as ballast:
        while ballast.write(bytes(4096)):
            pass


def read_only(disk: Path) -> None:
    subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)


@pytest.fixture(params=[full, read_only])
def spoil(request: pytest.FixtureRequest) -> Spoil:
    found: Spoil = request.param
    return found


def run(*args: object) -> str:
    done = CliRunner().invoke(app, [str(a) for a in args])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output


def looked_at(store: Path, elsewhere: Path) -> None:
    """Every way of looking, and of carrying away."""
    assert BATCH in run("batches", "--store", store)
    assert BATCH in run("larder", "--on", "2026-07-12", "--store", store)
    assert BATCH in run("batch", BATCH, "--store", store)
    run("export", "--out", elsewhere / "out.jsonl", "--store", store)
    run("backup", elsewhere / "b.sqlite", "--store", store)
    run("backup", elsewhere / "b.jsonl", "--store", store)
    for kept in ("b.sqlite", "b.jsonl"):
        new = elsewhere / f"new-{kept}.sqlite"
        run("restore", elsewhere / kept, "--store", new)
        with Journal(new) as journal:
            assert len(journal.events(BATCH)) > 10


def make(store: Path) -> Path:
    with Journal(store) as journal:
        journal.append_all(BATCH, tuple(season(BATCH)), 0)
    return store


def test_a_closed_store_can_be_read(disk: Path, tmp_path: Path, spoil: Spoil) -> None:
    store = make(disk / "s.sqlite")
    spoil(disk)
    looked_at(store, tmp_path)
    with Journal(store) as journal:
        held = len(journal.events(BATCH))
        many = [reading(number) for number in range(400)]
        with pytest.raises(StoreUnusable, match=r"is full|may write there|reports a fault"):
            journal.append_all(BATCH, many, held)
        assert len(journal.events(BATCH)) == held


def test_a_store_left_in_mid_batch_can_be_read(disk: Path, tmp_path: Path, spoil: Spoil) -> None:
    """As a power cut leaves it: the newest turns stand in the log."""
    with Journal(disk / "live.sqlite") as live:
        live.append_all(BATCH, tuple(season(BATCH)), 0)
        for tail in ("", "-wal"):
            shutil.copy(f"{live.store}{tail}", disk / f"s.sqlite{tail}")
    assert (disk / "s.sqlite-wal").stat().st_size
    spoil(disk)
    looked_at(disk / "s.sqlite", tmp_path)


def test_a_store_of_an_older_layout_can_be_read(disk: Path, spoil: Spoil) -> None:
    make_old(disk / "old.sqlite")
    spoil(disk)
    assert "2026-07-04-1" in run("export", "--store", disk / "old.sqlite")
