"""`panside batches`, `batch`, `recipes`, `reckon`: what was made and what can be asked."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from panside_process import objects, panside

from assistant.facts.events import Begin
from assistant.keep import Journal


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("store") / "journal.sqlite"
    lines = "2 kg of raspberries\ndone\nnote smells of roses\n"
    panside(path, "chat", "--recipe", "berry-syrup", stdin=lines)
    return path


def test_batches_lists_what_was_begun(store: Path) -> None:
    (row,) = objects(panside(store, "batches", "--json"))
    assert (row["recipe"], row["fruit"], row["stage"]) == ("berry-syrup", "raspberry", "water")
    assert row["batch"] in panside(store, "batches").stdout


def test_a_batch_is_told_whole(store: Path) -> None:
    name = objects(panside(store, "batches", "--json"))[0]["batch"]
    (record,) = objects(panside(store, "batch", name, "--json"))
    assert record["readings"][0]["value"] == 2
    assert record["additions"][0]["amount"] == 500  # a quarter of the fruit, by the recipe
    assert record["notes"] == ["smells of roses"]
    told = panside(store, "batch", f"panside:batch:{name}").stdout  # as a label's code reads
    assert "Readings" in told
    assert "500 g" in told


def test_an_unknown_batch_is_wrong_use(store: Path) -> None:
    done = panside(store, "batch", "none")
    assert done.returncode == 2
    assert "panside batches" in done.stderr


def test_no_batches_yet(tmp_path: Path) -> None:
    assert "no batches yet" in panside(tmp_path / "new.sqlite", "batches").stdout


def test_recipes_are_listed_shown_and_verified(store: Path, tmp_path: Path) -> None:
    assert "berry-syrup" in panside(store, "recipes").stdout
    shown = panside(store, "recipes", "berry-syrup").stdout
    assert "75 °C" in shown
    assert "{" not in shown
    bad = tmp_path / "bad.toml"
    bad.write_text('name = "bad"\n')
    done = panside(store, "recipes", "--verify", str(bad))
    assert done.returncode == 2
    assert "line 1" in done.stderr


def test_reckon_shows_working_and_source(store: Path) -> None:
    args = ("--juice-g", "1000", "--juice-brix", "20", "--target-brix", "60")
    done = panside(store, "reckon", "sugar-for-brix", *args)
    # 1000 x (60 - 20) / (100 - 60) = 1000 g, by hand
    assert "1000 g" in done.stdout
    assert "Source:" in done.stdout
    told = json.loads(panside(store, "reckon", "sugar-for-brix", *args, "--json").stdout)
    assert told["values"]["sugar_g"] == pytest.approx(1000)


def test_reckon_refuses_what_it_does_not_hold_for(store: Path) -> None:
    done = panside(store, "reckon", "density", "--brix", "99")
    assert done.returncode == 2
    assert "outside 0 to 85" in done.stderr


def test_reckon_checks_are_measured(store: Path) -> None:
    rows = objects(panside(store, "reckon", "--checks", "--json"))
    assert len(rows) > 20
    assert all(0 <= row["largest_difference"] <= row["tolerance"] for row in rows)


def test_a_batch_of_another_version_does_not_hide_the_others(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite"
    panside(path, "chat", "--recipe", "berry-syrup", stdin="2 kg\n")
    begun = Begin(at=datetime(2020, 1, 1, tzinfo=UTC), batch="old", recipe={"name": "berry-syrup"})
    with Journal(path) as journal:
        journal.append("old", begun, 0)
    listed = panside(path, "batches")
    assert listed.returncode == 0
    assert len(listed.stdout.splitlines()) == 1
    assert "can't read" in listed.stderr
    assert panside(path, "batch", "old").returncode == 2
    assert panside(path, "chat", "--json", stdin="where are we\n").returncode == 0
