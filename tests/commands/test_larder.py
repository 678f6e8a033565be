"""`panside larder` as a process: what it shows, writes down and refuses."""

import sqlite3
import sys
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from io import StringIO
from pathlib import Path
from subprocess import CompletedProcess

import pytest
from panside_process import objects
from panside_process import panside as process
from season import event, journal

from assistant.commands import main
from assistant.facts.events import Bottle, Yes
from assistant.facts.vessels import Lot
from assistant.keep import Journal

NOW = datetime.now(UTC)
FRESH = "fresh"
OLD = "old"


Panside = Callable[..., CompletedProcess[str]]


@pytest.fixture
def panside(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Panside:
    """The command line without the start of a process."""

    def run(store: Path, *args: str, stdin: str = "") -> CompletedProcess[str]:
        monkeypatch.setattr(sys, "argv", ["panside", *args])
        monkeypatch.setattr(sys, "stdin", StringIO(stdin))
        monkeypatch.setenv("PANSIDE_STORE", str(store))
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            main()
        out, err = capsys.readouterr()
        return CompletedProcess(args, int(ended.value.code or 0), out, err)

    return run


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """A batch filled yesterday, and one filled a hundred days ago."""
    path = tmp_path / "journal.sqlite"
    with Journal(path) as kept:
        for name, days in ((FRESH, 1), (OLD, 100)):
            kept.append_all(name, journal(name, NOW - timedelta(days=days)), 0)
    return path


def events(store: Path, batch: str) -> int:
    with sqlite3.connect(store) as connection:
        rows = connection.execute("select count(*) from events where batch = ?", (batch,))
        return int(rows.fetchone()[0])


def test_the_page_names_what_to_throw_away_and_what_keeps(panside: Panside, store: Path) -> None:
    done = panside(store, "larder")
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert lines[0] == "Throw away, untasted."
    assert lines[1].startswith("Old, ")
    assert "never taste it" in lines[2]
    assert lines[3] == "In store."
    assert lines[4].startswith("Fresh, ")


def test_json_has_one_object_a_batch_the_oldest_first(panside: Panside, store: Path) -> None:
    old, fresh = objects(panside(store, "larder", "--json"))
    assert (old["batch"], old["throw_away"], old["in_store"]) == (OLD, 9, 9)
    assert (fresh["batch"], fresh["throw_away"], fresh["place"]) == (FRESH, 0, "fridge")
    (lot,) = fresh["lots"]
    # this project's own rule: 18 days for this syrup, one of them gone
    assert (lot["count"], lot["opened"], lot["days_left"]) == (9, False, 17)


def test_another_day_is_looked_at_as_it_was_or_will_be(panside: Panside, store: Path) -> None:
    then = (NOW - timedelta(days=90)).date().isoformat()
    (old,) = objects(panside(store, "larder", "--on", then, "--json"))
    assert (old["batch"], old["throw_away"]) == (OLD, 0)
    later = (NOW + timedelta(days=60)).date().isoformat()
    found = objects(panside(store, "larder", "--on", later, "--json"))
    assert [entry["throw_away"] for entry in found] == [9, 9]
    assert panside(store, "larder", "--on", "yesterday").returncode == 2


def test_an_empty_larder(panside: Panside, tmp_path: Path) -> None:
    done = panside(tmp_path / "new.sqlite", "larder")
    assert (done.returncode, done.stdout) == (0, "There is nothing in store.\n")


def test_bottles_are_taken_opened_moved_and_thrown_away(panside: Panside, store: Path) -> None:
    given = panside(store, "larder", "take", FRESH, "3", "--to", "the kiosk")
    assert given.stdout == "3 bottles to the kiosk, 6 left.\n"
    (opened,) = objects(panside(store, "larder", "open", FRESH, "--json"))
    assert [(lot["count"], lot["opened"]) for lot in opened["lots"]] == [(5, False), (1, True)]
    assert panside(store, "larder", "move", FRESH, "freezer").returncode == 0
    (thrown,) = objects(panside(store, "larder", "discard", FRESH, "1", "--json"))
    assert (thrown["discarded"], thrown["in_store"], thrown["place"]) == (1, 5, "freezer")
    assert thrown["filled"] == thrown["in_store"] + thrown["used"] + thrown["discarded"]
    assert panside(store, "larder", "discard", FRESH, "--why", "power cut").returncode == 0
    assert [e["batch"] for e in objects(panside(store, "larder", "--json"))] == [OLD]


def test_of_several_sizes_one_is_named(panside: Panside, tmp_path: Path) -> None:
    path = tmp_path / "mixed.sqlite"
    *made, finished = journal(FRESH, NOW - timedelta(days=1))
    more = {"more": (Lot(count=2, size_ml=330), Lot(count=3, size_ml=330, of="jar"))}
    filled = [e.model_copy(update=more) if isinstance(e, Bottle) else e for e in made]
    with Journal(path) as kept:
        kept.append_all(FRESH, (*filled, Yes(at=filled[-1].at), finished), 0)
    asked = panside(path, "larder", "take", FRESH)
    assert (asked.returncode, "Of which size?" in asked.stderr) == (2, True)
    used = panside(path, "larder", "take", FRESH, "2", "--size", "330", "--jars")
    assert used.stdout == "2 jars of 330 ml used, 1 of them left.\n"
    (opened,) = objects(panside(path, "larder", "open", FRESH, "--size", "330", "--json"))
    assert [(lot["count"], lot["of"], lot["opened"]) for lot in opened["lots"]] == [
        (9, "bottle", False),
        (1, "bottle", False),
        (1, "jar", False),
        (1, "bottle", True),
    ]
    assert panside(path, "larder", "discard", FRESH, "--size", "750").returncode == 2


def test_some_bottles_are_moved_by_the_code_on_their_label(panside: Panside, store: Path) -> None:
    code = f"panside:batch:{FRESH}"
    (moved,) = objects(panside(store, "larder", "move", code, "freezer", "4", "--json"))
    assert [(lot["count"], lot["place"]) for lot in moved["lots"]] == [
        (5, "fridge"),
        (4, "freezer"),
    ]
    assert panside(store, "larder", "move", code, "freezer", "6").returncode == 2


@pytest.mark.parametrize(
    ("args", "code", "words"),
    [
        (("take", FRESH, "10"), 2, "there are only 9 bottles left"),
        (("open", FRESH, "10"), 2, "only 9 are still closed"),
        (("discard", FRESH, "10"), 2, "only 9 bottles left"),
        (("take", FRESH, "0"), 2, ""),
        (("take", FRESH, "-1"), 2, ""),
        (("take", "none"), 2, "no batch"),
        (("recall", "none"), 2, "no batch"),
        (("move", FRESH, "cupboard"), 3, "tested boiling-water process"),
        (("move", FRESH, "car"), 2, ""),
        (("move", FRESH, "fridge"), 2, "already"),
        (("sign", FRESH, "it is lovely"), 2, "When in doubt, throw it out"),
    ],
)
def test_what_cannot_be_is_refused_and_not_written(
    panside: Panside, store: Path, args: tuple[str, ...], code: int, words: str
) -> None:
    before = events(store, FRESH)
    done = panside(store, "larder", *args)
    assert (done.returncode, done.stdout) == (code, "")
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    assert events(store, FRESH) == before


def test_what_is_taken_too_late_is_written_down_with_a_warning(
    panside: Panside, store: Path
) -> None:
    done = panside(store, "larder", "take", OLD)
    assert done.returncode == 0
    assert "throw it away" in done.stdout


def test_a_sign_bars_the_batch_and_says_how_to_throw_it_away(panside: Panside, store: Path) -> None:
    panside(store, "larder", "take", FRESH, "2", "--to", "the kiosk")
    done = panside(store, "larder", "sign", FRESH, "it is fizzing")
    assert done.returncode == 0
    for needed in (
        "throw the whole batch away",
        "lidded bucket outdoors",
        "2 bottles of it went out",
    ):
        assert needed in done.stdout
    page = panside(store, "larder").stdout
    assert "the batch has shown fizz" in page
    assert "2 bottles of fresh went out" in page.lower()
    (turn,) = objects(
        panside(store, "chat", "--json", "--batch", FRESH, stdin="how long does it keep\n")
    )
    assert "throw it away" in turn["say"]
    (record,) = objects(panside(store, "batch", FRESH, "--json"))
    assert record["keep_days"] is None


def test_a_recall_says_where_every_bottle_went(panside: Panside, store: Path) -> None:
    panside(store, "larder", "take", FRESH, "2", "--to", "the kiosk")
    panside(store, "larder", "take", FRESH)
    done = panside(store, "larder", "recall", FRESH, "--why", "a wrong label")
    assert done.returncode == 0
    for needed in ("a wrong label", "2 bottles to the kiosk", "nobody named", "emergency"):
        assert needed in done.stdout
    written = events(store, FRESH)
    (again,) = objects(panside(store, "larder", "recall", FRESH, "--json"))
    assert events(store, FRESH) == written
    assert (again["out"], again["unnamed"], again["in_store"]) == (3, 1, 6)
    assert again["reason"] == "a wrong label"


def test_the_same_by_typing_in_a_chat(panside: Panside, store: Path) -> None:
    said = "we used three bottles\ni opened one\nwhat's in the larder\nthe cap is bulging\n"
    used, opened, asked, sign = objects(
        panside(store, "chat", "--json", "--batch", FRESH, stdin=said)
    )
    assert used["events"] == [{"kind": "used", "count": 3, "to": ""}]
    assert opened["say"].startswith("One opened, five still closed")
    assert "five closed and one opened" in asked["say"].lower()
    assert "throw the whole batch away" in sign["say"]
    (entry,) = [e for e in objects(panside(store, "larder", "--json")) if e["batch"] == FRESH]
    assert (entry["used"], entry["throw_away"], entry["signs"]) == (3, 6, ["bulging"])
    undone = panside(store, "chat", "--batch", FRESH, stdin="scratch that\n")
    assert undone.returncode == 0
    (entry,) = [e for e in objects(panside(store, "larder", "--json")) if e["batch"] == FRESH]
    assert entry["signs"] == []


def test_a_clock_ahead_hides_nothing_from_today(panside: Panside, store: Path) -> None:
    with Journal(store) as kept:
        ahead = event("sign", NOW + timedelta(days=500), what="mould")
        kept.append(FRESH, ahead, len(kept.events(FRESH)))
    found = {e["batch"]: e for e in objects(panside(store, "larder", "--json"))}
    assert found[FRESH]["throw_away"] == 9
    assert date.fromisoformat(found[FRESH]["on"]) <= NOW.date() + timedelta(days=1)


@pytest.mark.parametrize(
    ("args", "code"),
    [
        (("larder",), 0),
        (("larder", "take", FRESH, "10"), 2),
        (("larder", "move", FRESH, "cupboard"), 3),
    ],
)
def test_a_process_ends_with_the_code(store: Path, args: tuple[str, ...], code: int) -> None:
    done = process(store, *args)
    assert done.returncode == code
    assert bool(done.stdout) == (code == 0)
    assert len(done.stderr.splitlines()) == (code != 0)
