"""The log beside the store: read as SQLite reads it, and told when its middle is spoiled."""

import random
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from event_makers import reading, small_batch

from assistant.base.errors import StoreUnusable
from assistant.keep import Journal
from assistant.keep.wal import is_broken, read_log

BATCH = "2026-07-04-1"
FRAME = 4096 + 24


@pytest.fixture
def cut_off(tmp_path: Path) -> Path:
    """A store whose last commits stand in the log only, as after a power cut."""
    with Journal(tmp_path / "live.sqlite") as journal:
        for seq, event in enumerate(small_batch(readings=12)):
            journal.append(BATCH, event, seq)
        for tail in ("", "-wal"):
            shutil.copy(tmp_path / f"live.sqlite{tail}", tmp_path / f"store.sqlite{tail}")
    return tmp_path / "store.sqlite"


def _log(store: Path) -> Path:
    return store.with_name(store.name + "-wal")


def test_the_log_is_read_as_sqlite_reads_it(cut_off: Path) -> None:
    pages = read_log(_log(cut_off).read_bytes()).pages
    with closing(sqlite3.connect(cut_off)) as base:
        assert base.execute("SELECT count(*) FROM events").fetchone() == (13,)
    data = cut_off.read_bytes()
    for number, page in pages.items():
        # Page 1 carries a change counter that a checkpoint may raise; it starts at byte 24.
        start = 100 if number == 1 else 0
        assert data[(number - 1) * 4096 + start : number * 4096] == page[start:]


@pytest.mark.parametrize("seed", range(8))
def test_a_spoiled_middle_is_told_and_left_as_it_is(cut_off: Path, seed: int) -> None:
    log = _log(cut_off)
    data = bytearray(log.read_bytes())
    at = 32 + FRAME * random.Random(seed).randrange(8) + 24 + random.Random(seed).randrange(4000)
    data[at] ^= 0xFF
    log.write_bytes(data)
    before = (cut_off.read_bytes(), log.read_bytes())
    with pytest.raises(StoreUnusable, match=r"-wal, the log of .*, is damaged; leave it"):
        Journal(cut_off)
    assert (cut_off.read_bytes(), log.read_bytes()) == before


def test_a_torn_end_is_what_a_power_cut_leaves(cut_off: Path) -> None:
    log = _log(cut_off)
    whole = log.read_bytes()
    log.write_bytes(whole[:-100])
    assert not is_broken(cut_off)
    with Journal(cut_off) as journal:
        held = journal.events(BATCH)
        assert held == small_batch(readings=11)
        journal.append(BATCH, reading(12), 12)


def test_one_commit_that_does_not_check_was_under_way_and_two_were_not(cut_off: Path) -> None:
    """Of the last commit nothing was told yet; the one before it was on the disk."""
    log = _log(cut_off)
    whole = bytearray(log.read_bytes())
    commits = [at for at in range(32, len(whole), FRAME) if whole[at + 4 : at + 8] != bytes(4)]
    for spoiled, broken in ((commits[-1], False), (commits[-2], True)):
        data = whole.copy()
        data[spoiled + 24] ^= 0xFF
        log.write_bytes(data)
        assert is_broken(cut_off) is broken


@pytest.mark.parametrize("at", [0, 4, 8, 16, 24])
def test_a_spoiled_beginning_is_told(cut_off: Path, at: int) -> None:
    log = _log(cut_off)
    data = bytearray(log.read_bytes())
    data[at : at + 4] = b"\xa5\xa5\xa5\xa5"
    log.write_bytes(data)
    with pytest.raises(StoreUnusable, match="is damaged"):
        Journal(cut_off)


def test_no_log_is_no_damage(tmp_path: Path) -> None:
    assert not is_broken(tmp_path / "none.sqlite")
