"""`panside label` as a cook would use it."""

import json
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

import pypdf
import pytest
from batch_maker import START, Maker
from panside_process import panside

from assistant.commands import main
from assistant.keep import Journal


def _stored(folder: Path, maker: Maker) -> Path:
    """A journal with that batch, as if it had been begun an hour ago."""
    later = datetime.now(UTC) - timedelta(hours=1) - START
    events = [event.model_copy(update={"at": event.at + later}) for event in maker.journal]
    store = folder / "journal.sqlite"
    with Journal(store) as journal:
        journal.append_all("b", events, 0)
    return store


class Done(NamedTuple):
    code: int
    out: str
    err: str


Label = Callable[..., Done]


@pytest.fixture
def label(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Label:
    """The command in this process, so that a dozen of them take no longer than one."""

    def run(store: Path, *args: str) -> Done:
        monkeypatch.setenv("PANSIDE_STORE", str(store))
        monkeypatch.setattr("sys.argv", ["panside", "label", *args])
        with pytest.raises(SystemExit) as ended:
            main()
        told = capsys.readouterr()
        return Done(int(ended.value.code or 0), told.out, told.err)

    return run


@pytest.fixture(scope="module")
def bottled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return _stored(tmp_path_factory.mktemp("bottled"), Maker().up_to("store"))


def test_one_label_a_bottle_is_written(bottled: Path, tmp_path: Path, label: Label) -> None:
    target = tmp_path / "labels.pdf"
    done = label(bottled, "b", "--out", str(target), "--json")
    assert done.code == 0, done.err
    record = json.loads(done.out)
    assert (record["batch"], record["copies"], record["pages"]) == ("b", 9, 2)
    assert record["file"] == str(target)
    assert (record["sheet"], record["labels_a_bottle"]) == ("a4-8", 1)
    assert record["label"]["code"] == "panside:b"
    assert record["label"]["ingredients"] == ["sugar", "blackcurrant", "water", "acid: citric acid"]
    told = "".join(page.extract_text() for page in pypdf.PdfReader(target).pages)
    assert told.count("Blackcurrant syrup") == 9
    assert told.count("Lot b") == 9


def test_the_code_names_the_batch_too_and_small_labels_come_in_pairs(
    bottled: Path, tmp_path: Path, label: Label
) -> None:
    args = ("--sheet", "letter-30", "--copies", "2", "--out", str(tmp_path / "small.pdf"))
    done = label(bottled, "panside:b", *args)
    assert done.code == 0, done.err
    told = "2 × Blackcurrant syrup, a front and a back each: 1 page of letter-30 in"
    assert done.out.startswith(told)
    told = pypdf.PdfReader(tmp_path / "small.pdf").pages[0].extract_text()
    assert (told.count("Best before"), told.count("Ingredients:")) == (2, 2)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (("none",), "panside batches"),
        (("b", "--sheet", "a5-1"), "a4-24"),
        (("b", "--copies", "0"), "1 to 1000"),
        (("b", "--out", "no/such/folder/x.pdf"), "can't be written"),
    ],
)
def test_wrong_use(
    bottled: Path, tmp_path: Path, label: Label, args: tuple[str, ...], words: str
) -> None:
    out = () if "--out" in args else ("--out", str(tmp_path / "x.pdf"))
    done = label(bottled, *args, *out)
    assert done.code == 2
    assert words in done.err
    assert not (tmp_path / "x.pdf").exists()


def _held() -> Maker:
    maker = Maker().up_to("store")
    maker.reads("ph", 5.1, "pH")  # 21 CFR 114.3: pH 4.6
    return maker


def _thrown_away() -> Maker:
    maker = Maker().up_to("store")
    maker.does("discard", reason="fizz")
    return maker


@pytest.mark.parametrize(
    ("maker", "code", "words"),
    [
        (Maker().up_to("bottle"), 2, "not bottled yet"),
        (_held(), 3, "held by a limit"),
        (_thrown_away(), 2, "thrown away"),
    ],
    ids=["not bottled", "held", "thrown away"],
)
def test_a_batch_that_gets_none(
    tmp_path: Path, label: Label, maker: Maker, code: int, words: str
) -> None:
    target = tmp_path / "x.pdf"
    done = label(_stored(tmp_path, maker), "b", "--out", str(target))
    assert (done.code, len(done.err.splitlines())) == (code, 1)
    assert words in done.err
    assert not target.exists()


def test_from_the_shell_it_names_the_file_itself(
    bottled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = panside(bottled, "label", "b")
    assert done.returncode == 0, done.stderr
    assert "label-b.pdf" in done.stdout
    assert len(pypdf.PdfReader(tmp_path / "label-b.pdf").pages) == 2


@pytest.fixture(scope="module")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Six half litres and three jars of 250."""
    maker = Maker().up_to("bottle")
    maker.does("bottle", count=6, size_ml=500, more=[{"count": 3, "size_ml": 250, "of": "jar"}])
    return _stored(tmp_path_factory.mktemp("mixed"), maker)


def test_each_size_gets_its_labels(mixed: Path, tmp_path: Path, label: Label) -> None:
    target = tmp_path / "labels.pdf"
    done = label(mixed, "b", "--out", str(target))
    assert done.out.startswith("6 × 500 ml and 3 × 250 ml: Blackcurrant syrup: 2 pages of a4-8 in")
    words = "".join(page.extract_text() for page in pypdf.PdfReader(target).pages)
    assert (words.count("500 ml"), words.count("250 ml")) == (6, 3)
    only = json.loads(label(mixed, "b", "--size", "250", "--out", str(target), "--json").out)
    assert (only["copies"], only["sizes"]) == (3, [{"volume": "250 ml", "copies": 3}])
    none = label(mixed, "b", "--size", "330", "--out", str(target))
    assert (none.code, "500 ml, 250 ml" in none.err) == (2, True)


def test_pictures_of_each_size_and_of_the_sheets(mixed: Path, tmp_path: Path, label: Label) -> None:
    done = label(mixed, "b", "--preview", "--out", str(tmp_path / "look.png"))
    assert done.code == 0, done.err
    assert [path.name for path in sorted(tmp_path.iterdir())] == ["look-2.png", "look.png"]
    label(mixed, "b", "--out", str(tmp_path / "sheet.png"))
    assert (tmp_path / "sheet.png").read_bytes().startswith(b"\x89PNG")
    assert (tmp_path / "sheet-2.png").exists()


def test_a_picture_without_its_package_ends_with_the_remedy(
    mixed: Path, tmp_path: Path, label: Label, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pypdfium2", None)
    done = label(mixed, "b", "--preview", "--out", str(tmp_path / "look.png"))
    assert (done.code, "panside[pictures]" in done.err) == (4, True)
    assert label(mixed, "b", "--out", str(tmp_path / "labels.pdf")).code == 0
