"""`panside plan`, `again`, `compare`, `export`, `import`, and what `batch` and `recipes` gained."""

import json
from pathlib import Path
from typing import Any

import pytest
from batch_maker import Maker
from desk_maker import resumed, types
from hypothesis import given, settings
from hypothesis import strategies as st
from panside_process import objects, panside
from typer.testing import CliRunner

from assistant.base.clock import SetClock
from assistant.base.errors import LimitStopped, OutOfRange, PansideError, WrongUse
from assistant.commands.app import app
from assistant.cook import fold
from assistant.facts.events import AnyEvent
from assistant.keep import Journal, export_batch, import_batch

ID = "2026-07-11-1"
UNFINISHED = "2026-07-11-2"


def _put(journal: Journal, maker: Maker, name: str) -> None:
    begun = maker.journal[0].model_copy(update={"batch": name})
    journal.append_all(name, (begun, *maker.journal[1:]), 0)


def _last_year() -> Maker:
    maker = Maker().up_to("sharpen")
    maker.surely("reading", what="citric_acid", value=16, unit="g")
    for _ in range(3):
        maker.does("no")
    maker.reads("ph", 3.4, "pH")
    maker.does("bottle", count=9, size_ml=500)
    maker.done()
    return maker


LAST_YEAR = _last_year().journal


@pytest.fixture(scope="module")
def lines() -> list[str]:
    """A whole batch and one that waits at its steeping, as lines."""
    with Journal("sqlite://") as journal:
        _put(journal, _last_year(), ID)
        _put(journal, Maker().up_to("steep"), UNFINISHED)
        return [line for name in (ID, UNFINISHED) for line in export_batch(journal, name)]


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lines: list[str]) -> Path:
    """A journal with both batches, and the one that commands open."""
    path = tmp_path / "journal.sqlite"
    whole = [i for i, line in enumerate(lines) if '"kind":"begin"' in line][1]
    with Journal(path) as journal:
        import_batch(journal, lines[:whole])
        import_batch(journal, lines[whole:])
    monkeypatch.setenv("PANSIDE_STORE", str(path))
    return path


def _ok(*args: str) -> str:
    done = CliRunner().invoke(app, args)
    assert done.exit_code == 0, done.exception
    return done.stdout


def _told(*args: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in _ok(*args, "--json").splitlines()]


PLAN = ("plan", "--recipe", "berry-syrup")


def test_a_plan_as_a_process(tmp_path: Path) -> None:
    done = panside(tmp_path / "s.sqlite", *PLAN, "--bottles", "12", "--fruit", "raspberry")
    assert done.returncode == 0, done.stderr
    assert "Shopping list" in done.stdout
    assert "12 full bottles of 500 ml" in done.stdout
    assert not (tmp_path / "s.sqlite").exists()


def test_a_plan_for_several_sizes(tmp_path: Path) -> None:
    sizes = ("--bottles", "7", "--size", "500", "--bottles", "4", "--size", "250")
    done = panside(tmp_path / "s.sqlite", *PLAN, *sizes)
    assert "7 bottles of 500 ml and 4 bottles of 250 ml" in done.stdout
    assert "of 250 ml, clean" in done.stdout
    odd = panside(tmp_path / "s.sqlite", *PLAN, *sizes[:-2])
    assert (odd.returncode, "Give each count its size" in odd.stderr) == (2, True)


def test_a_fruit_may_be_written_as_people_do() -> None:
    args = ("plan", "--recipe", "stone-fruit-syrup", "--litres", "2", "--fruit", "Sour cherry")
    assert _told(*args)[0]["fruit"] == "sour-cherry"


@pytest.mark.parametrize(
    ("args", "code", "words"),
    [
        (("plan", "--recipe", "berry-syrup", "--bottles", "0"), 2, "outside 1 to 500"),
        (("plan", "--recipe", "berry-syrup", "--litres", "1", "--fruit", "fig"), 3, "low-acid"),
    ],
)
def test_exit_codes_of_processes(
    tmp_path: Path, args: tuple[str, ...], code: int, words: str
) -> None:
    done = panside(tmp_path / "s.sqlite", *args)
    assert done.returncode == code
    assert words in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("args", "error"),
    [
        ((*PLAN, "--bottles", "-3"), OutOfRange),
        ((*PLAN, "--bottles", "12", "--size", "0"), OutOfRange),
        ((*PLAN, "--litres", "nan"), OutOfRange),
        ((*PLAN, "--guests", "0"), OutOfRange),
        ((*PLAN, "--guests", "10", "--glasses", "-1"), OutOfRange),
        ((*PLAN, "--fruit-kg", "-2"), OutOfRange),
        ((*PLAN, "--fruit-kg", "2", "--fruit", "gravel"), WrongUse),
        ((*PLAN, "--fruit-kg", "2", "--fruit", "fig"), LimitStopped),
        ((*PLAN, "--fruit-kg", "2", "--bottles", "3"), WrongUse),
        ((*PLAN, "--fruit-kg", "2", "--hob", "campfire"), WrongUse),
        ((*PLAN, "--fruit-kg", "2", "--power-w", "0"), OutOfRange),
        (PLAN, WrongUse),
        (("plan", "--bottles", "3"), WrongUse),
        (("plan", "--recipe", "soup", "--bottles", "3"), WrongUse),
        (("again", "none"), WrongUse),
        (("again", ID, "--fruit-kg", "0"), OutOfRange),
        (("again", ID, "--fruit-kg", "-2"), OutOfRange),
        (("again", ID, "--fruit-kg", "nan"), PansideError),
        (("compare", ID), WrongUse),
        (("compare", ID, ID), WrongUse),
        (("compare", ID, "none"), WrongUse),
        (("export", "none"), WrongUse),
        (("export", "--out", "/no/such/folder/x.jsonl"), WrongUse),
        (("import", "/no/such/file.jsonl"), WrongUse),
        (("batch", "none"), WrongUse),
        (("batch", ID, "--price", "fruit"), WrongUse),
        (("batch", ID, "--price", "fruit=much"), WrongUse),
        (("batch", ID, "--price", "fruit=nan"), WrongUse),
        (("batch", ID, "--price", "fruit=-4"), OutOfRange),
        (("batch", ID, "--price", "love=4"), WrongUse),
        (("batch", ID, "--curve", "curve.bmp"), WrongUse),
        (("recipes", "--json-ld"), WrongUse),
        (("recipes", "soup", "--json-ld"), WrongUse),
    ],
)
def test_wrong_inputs(store: Path, args: tuple[str, ...], error: type[PansideError]) -> None:
    before = len(Journal(store).batches())
    done = CliRunner().invoke(app, args)
    assert isinstance(done.exception, error), done.exception
    assert str(done.exception)
    assert len(Journal(store).batches()) == before


def test_the_same_again_for_this_years_fruit(store: Path) -> None:
    done = panside(store, "again", ID, "--fruit-kg", "1.2", "--json")
    assert done.returncode == 0, done.stderr
    (record,) = objects(done)
    assert (record["again_of"], record["fruit"], record["stage"]) == (ID, "blackcurrant", "crush")
    acid = next(hint for hint in record["hints"] if hint["what"] == "citric_acid")
    assert (acid["last"], acid["now"]) == (16, 8)
    with Journal(store) as journal:
        events = journal.events(record["batch"])
        assert events[0].recipe == journal.events(ID)[0].recipe  # type: ignore[union-attr]
        desk = resumed(record["batch"], journal, SetClock(events[-1].at))
        assert types(desk, "done").stage == "water"
    assert [event.kind for event in events[:4]] == ["begin", "choose", "reading", "note"]
    # A quarter of the fruit, by the recipe.
    assert "300 g" in record["next"][0]


@pytest.mark.usefixtures("store")
def test_again_says_what_to_do_next() -> None:
    said = _ok("again", ID)
    assert "same again as" in said
    assert "last time 16 g of citric acid" in said
    assert "panside chat --batch" in said


@pytest.mark.usefixtures("store")
def test_again_of_a_batch_that_is_not_finished_says_so() -> None:
    assert "not finished (it is at 'steep')" in _ok("again", UNFINISHED, "--fruit-kg", "1")


@pytest.mark.parametrize(
    ("acts", "words"),
    [
        ([("reading", {"what": "ph", "value": 5.1, "unit": "pH"})], "held by a limit"),
        ([("discard", {"reason": "it fizzed"})], "thrown away: it fizzed"),
    ],
)
def test_again_of_a_batch_that_went_wrong_warns(
    store: Path, acts: list[tuple[str, dict[str, Any]]], words: str
) -> None:
    maker = Maker().up_to("ph")
    for kind, fields in acts:
        maker.does(kind, **fields)
    with Journal(store) as journal:
        _put(journal, maker, "odd")
    assert words in _ok("again", "odd")


@pytest.mark.parametrize(
    ("kind", "fields", "words"),
    [
        ("sign", {"what": "off_smell"}, "spoils (off smell)"),
        ("recalled", {"reason": "glass"}, "called back (glass)"),
    ],
)
def test_again_of_a_batch_that_spoilt_warns(
    store: Path, kind: str, fields: dict[str, Any], words: str
) -> None:
    maker = _last_year()
    maker.does(kind, **fields)
    with Journal(store) as journal:
        _put(journal, maker, "odd")
    said = _ok("again", "odd")
    assert words in said
    assert "days in the fridge" not in said


@pytest.mark.usefixtures("store")
def test_batches_side_by_side() -> None:
    done, waiting = _told("compare", ID, UNFINISHED)
    assert (done["bottles"], waiting["bottles"]) == (9, None)
    assert done["citric_acid_g"] == 16
    assert waiting["standing"] == "steep"
    said = _ok("compare", ID, UNFINISHED)
    assert "9 of 500 ml" in said
    assert said.splitlines()[0].split() == ["batch", ID, UNFINISHED]


def test_export_and_import_by_way_of_a_process(store: Path, tmp_path: Path) -> None:
    file, other = tmp_path / "batches.jsonl", tmp_path / "other.sqlite"
    _ok("export", "--out", str(file))
    done = panside(other, "import", str(file), "--json")
    assert [(row["batch"], row["new"]) for row in objects(done)] == [(ID, True), (UNFINISHED, True)]
    with Journal(store) as here, Journal(other) as there:
        for name in (ID, UNFINISHED):
            assert fold(there.events(name)) == fold(here.events(name))
        back = [line for row in there.batches() for line in export_batch(there, row.id)]
    assert "".join(back) == file.read_text("utf-8") == _ok("export")


@settings(max_examples=15, deadline=None)
@given(order=st.permutations(LAST_YEAR[1:]), count=st.integers(0, len(LAST_YEAR) - 1))
def test_any_journal_folds_the_same_after_its_journey(order: list[AnyEvent], count: int) -> None:
    events = (LAST_YEAR[0], *order[:count])
    with Journal("sqlite://") as one, Journal("sqlite://") as two:
        one.append_all("b", events, 0)
        import_batch(two, list(export_batch(one, "b")))
        assert fold(two.events("b")) == fold(events)


def test_reading_in_twice_changes_nothing(store: Path, tmp_path: Path) -> None:
    file = tmp_path / "one.jsonl"
    _ok("export", ID, "--out", str(file))
    assert _told("import", str(file)) == [{"batch": ID, "events": 22, "new": False}]
    assert _told("import", str(file), "--as", "copy")[0]["batch"] == "copy"
    assert {row.id for row in Journal(store).batches()} == {ID, UNFINISHED, "copy"}


def _spoilt(lines: list[str]) -> dict[str, list[str]]:
    other = json.loads(lines[0]) | {"recipe": {"name": "soup"}, "batch": "soup"}
    return {
        "another of that name": lines[:-1],
        "no beginning": lines[1:],
        "no event": [*lines, '{"kind":"stir"}'],
        "no recipe": [json.dumps(other)],
        "twice": [*lines, *lines],
        "nothing": [],
    }


@pytest.mark.parametrize(
    "fault",
    ["another of that name", "no beginning", "no event", "no recipe", "twice", "nothing"],
)
def test_files_that_are_no_batches_change_nothing(store: Path, tmp_path: Path, fault: str) -> None:
    lines = _ok("export", ID).splitlines()
    file = tmp_path / "spoilt.jsonl"
    # A good batch before the fault must not be read in either.
    file.write_text("\n".join(_spoilt(lines)[fault]), "utf-8")
    done = CliRunner().invoke(app, ["import", str(file)])
    assert isinstance(done.exception, WrongUse), done.exception
    assert len(Journal(store).batches()) == 2


@pytest.mark.usefixtures("store")
def test_a_batch_with_cost_and_curve(tmp_path: Path) -> None:
    curve = tmp_path / "curve.svg"
    args = ("--price", "fruit=4,5", "--price", "bottle=0.6", "--curve", str(curve))
    (record,) = _told("batch", ID, *args)
    # 2.4 kg at 4.50 and nine bottles at 0.60.
    assert record["cost"]["total"] == pytest.approx(2.4 * 4.5 + 9 * 0.6)
    assert curve.read_text("utf-8").startswith("<svg")
    assert "Against the plan" in _ok("batch", ID)


def test_a_recipe_as_linked_data() -> None:
    found = json.loads(_ok("recipes", "berry-syrup", "--json-ld"))
    assert found["@type"] == "Recipe"
