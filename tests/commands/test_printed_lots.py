"""A label followed from two kitchens through a merge to a recall."""

import json
from datetime import timedelta
from pathlib import Path

import pytest
from season import FILLED, journal
from typer.testing import CliRunner

from assistant.base.errors import WrongUse
from assistant.commands.app import app
from assistant.facts.events import Used
from assistant.keep import Journal

LOT = "2026-07-11-1"


def run(*args: object) -> str:
    done = CliRunner().invoke(app, [str(a) for a in args])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output


def kitchen(file: Path, later: int, to: str) -> Path:
    """A kitchen that filled nine bottles of that lot and gave two of them away."""
    filled = FILLED + timedelta(minutes=later)
    gone = Used(at=filled + timedelta(days=1), count=2, to=to)
    with Journal(file) as kept:
        kept.append_all(LOT, (*journal(LOT, filled), gone), 0)
    return file


@pytest.fixture
def met(tmp_path: Path) -> tuple[Path, str]:
    """The store in which both kitchens' batches are, and what the merge told."""
    one = kitchen(tmp_path / "one.sqlite", 0, "the regatta")
    two = kitchen(tmp_path / "two.sqlite", 9, "the ferryman")
    return one, run("merge", two, "--store", one)


def test_the_merge_says_which_labels_to_replace(met: tuple[Path, str]) -> None:
    assert f"Labels printed for it say lot {LOT}, which another batch has too" in met[1]
    assert f"`panside label {LOT}-b` prints new ones" in met[1]


def test_a_recall_of_the_printed_lot_finds_every_bottle(met: tuple[Path, str]) -> None:
    told = run("larder", "recall", f"panside:batch:{LOT}", "--why", "lids", "--store", met[0])
    assert "Lot 2026-07-11-1 is on bottles of 2 batches" in told
    assert "Replace the labels" in told
    assert "the regatta" in told
    assert "the ferryman" in told
    records = run("larder", "recall", LOT, "--store", met[0], "--json").splitlines()
    found = [json.loads(line) for line in records]
    assert [one["batch"] for one in found] == [LOT, f"{LOT}-b"]
    assert sum(one["in_store"] + one["out"] for one in found) == 18


def test_one_batch_alone_can_be_called_back(met: tuple[Path, str]) -> None:
    told = run("larder", "recall", LOT, "--only", "--store", met[0])
    assert "the regatta" in told
    assert "the ferryman" not in told
    told = run("larder", "recall", f"{LOT}-b", "--store", met[0])
    assert "the ferryman" in told


def test_other_commands_say_that_the_lot_is_on_other_bottles_too(met: tuple[Path, str]) -> None:
    told = run("larder", "take", LOT, "--store", met[0])
    assert f"Bottles of {LOT} and {LOT}-b carry lot {LOT}; this is about batch {LOT} only" in told


def test_a_short_name_that_can_mean_several_is_asked_about(tmp_path: Path) -> None:
    names = [f"{LOT}-k7m4p", f"{LOT}-q9x2c"]
    with Journal(tmp_path / "s.sqlite") as kept:
        for name in names:
            kept.append_all(name, tuple(journal(name)), 0)
    with pytest.raises(WrongUse, match=f"'{LOT}' can mean {LOT}-k7m4p or {LOT}-q9x2c"):
        run("larder", "recall", LOT, "--store", tmp_path / "s.sqlite")
    assert names[1] in run("larder", "recall", "q9x2c", "--store", tmp_path / "s.sqlite")
