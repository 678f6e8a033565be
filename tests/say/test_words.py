"""The words of lines: every id has some, every one is used, and files with faults are refused."""

from pathlib import Path

import pytest
from line_ids import Scan, Use

import assistant
from assistant.base.errors import WordsMissing
from assistant.cook.reply import Fact, Quantity
from assistant.say.words import catalogue, fill, names, read_words, template

PACKAGE = Path(assistant.__file__).parent
FRAGMENTS = ("event.", "glance.")
"""Names of events inside a question, and what the page shows across the room: no sentences."""


def _sources(*folders: str) -> dict[str, str]:
    found = [file for folder in folders for file in sorted((PACKAGE / folder).rglob("*.py"))]
    return {str(file.relative_to(PACKAGE)): file.read_text(encoding="utf-8") for file in found}


@pytest.fixture(scope="module")
def scan() -> Scan:
    sources = _sources(".")
    assert any(name.startswith("cook/") for name in sources)
    return Scan(sources)


def test_every_line_id_can_be_followed(scan: Scan) -> None:
    assert scan.problems == []


def test_every_line_has_words(scan: Scan) -> None:
    without = [u for u in scan.uses if not any(u.fits(line_id) for line_id in catalogue())]
    assert scan.uses
    assert [f"{use.where}: {use.pattern}" for use in without] == []


def test_every_line_has_the_facts_its_words_name(scan: Scan) -> None:
    by_name = {line_id for line_id in catalogue() for use in scan.uses if use.means(line_id)}
    lacking = [
        f"{use.where}: {line_id} lacks {', '.join(sorted(gone))}"
        for use in scan.uses
        for line_id, words in catalogue().items()
        if use.means(line_id) or (use.fits(line_id) and line_id not in by_name)
        if use.facts is not None and (gone := names(words) - use.facts)
    ]
    assert lacking == []


def test_no_words_are_unused(scan: Scan) -> None:
    strings = scan.strings()
    unused = [
        line_id
        for line_id in catalogue()
        if not line_id.startswith(FRAGMENTS)
        and line_id not in strings
        and not any(use.fits(line_id) for use in scan.uses)
    ]
    assert unused == []


@pytest.mark.parametrize("line_id", sorted(catalogue()))
def test_words_are_tidy(line_id: str) -> None:
    words = catalogue()[line_id]
    assert words == " ".join(words.split())
    if not line_id.startswith(FRAGMENTS):
        assert words[-1].isalpha() or words[-1] in ".?!}"
        assert words[0].isupper() or words[0] == "{"


SPECIMEN = """
NAMES = {"a": "table.first", "b": "table.second"}
TOP = "top"
def helper(line_id, rank="do"):
    return Line(id=line_id, rank=rank)
def outer(name):
    return helper(name)
def body(kind, hot):
    Line(id="plain", rank="do", facts={"sugar": 1})
    Line(id=f"pattern.{kind}", rank="do", facts={**kind})
    Line(id="hot" if hot else "cold", rank="do")
    Line(id=NAMES[kind], rank="do")
    Line(id=TOP, rank="do")
    local = "local"
    reply.Line(id=local, rank="do")
    helper("passed")
    helper(line_id="by.name")
    outer("passed.on")
    Line(id="limit", rank="limit", text="Own words.")
"""


def test_the_scan_finds_every_kind_of_id() -> None:
    found = Scan({"specimen.py": SPECIMEN})
    assert found.problems == []
    assert {use.pattern.replace("\\", "") for use in found.uses} == {
        "plain", "pattern.w+", "hot", "cold", "table.first", "table.second", "top", "local",
        "passed", "by.name", "passed.on",
    }  # fmt: skip
    facts = {use.pattern: use.facts for use in found.uses}
    assert facts["plain"] == {"sugar"}
    assert facts["hot"] == frozenset()
    assert facts[r"pattern\.\w+"] is None


@pytest.mark.parametrize(
    "line",
    [
        "Line(id=reckon(), rank='do')",
        "Line(id=unknown, rank='do')",
        "Line(**whole)",
        "def lonely(line_id):\n    Line(id=line_id, rank='do')",
    ],
)
def test_the_scan_reports_what_it_cannot_follow(line: str) -> None:
    found = Scan({"specimen.py": line})
    assert found.uses == []
    assert len(found.problems) == 1
    assert found.problems[0].startswith("specimen.py:")


def test_a_pattern_fits_whole_ids_only() -> None:
    use = Use("here", r"sorbate_\w+", None)
    assert use.fits("sorbate_high")
    assert not use.fits("sorbate_high.too")
    assert not use.fits("no_sorbate_high")
    assert not use.means("sorbate_high")
    assert Use("here", r"sorbate\.high", None).means("sorbate.high")


def _plain(fact: Fact, _before: str) -> str:
    return str(fact)


def test_a_missing_id_is_named() -> None:
    with pytest.raises(WordsMissing, match=r"no words for the line 'nowhere'.*say/words"):
        template("nowhere")


def test_a_missing_fact_is_named() -> None:
    with pytest.raises(WordsMissing, match="the line 'add' has words for 'sugar'"):
        fill("Add {sugar}.", {"water": 1}, _plain, "add")


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (1, "1 bottle"),
        (4, "4 bottles"),
        (0, "0 bottles"),
    ],
)
def test_a_count_takes_its_word(count: int, words: str) -> None:
    assert fill("{n} {n|bottle|bottles}", {"n": count}, _plain, "x") == words
    quantity = Quantity(value=count, unit="count")
    assert fill("{n|bottle|bottles}", {"n": quantity}, _plain, "x") == words.split(" ", 1)[1]


def test_facts_are_never_read_as_templates() -> None:
    assert fill("Note: {text}", {"text": "{sugar}"}, _plain, "note") == "Note: {sugar}"


def test_tables_nest() -> None:
    assert read_words('[a.b]\nc = "Yes."\n["d"]\ne = "No."', "f.toml") == {
        "a.b.c": "Yes.",
        "d.e": "No.",
    }


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a = ", "the words in f.toml can't be read"),
        ("a = 3", "the words of 'a' in f.toml are not a sentence"),
        ('a = "Add {sugar of it."', "the words of 'a' in f.toml are not a sentence"),
        ('[t]\na = "Add {sugar kind}."', "the words of 't.a' in f.toml"),
    ],
)
def test_a_faulty_file_is_refused(text: str, message: str) -> None:
    with pytest.raises(WordsMissing, match=message):
        read_words(text, "f.toml")


def test_words_can_be_had_only_once(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "words").mkdir()
    for name in ("one.toml", "two.toml"):
        (tmp_path / "words" / name).write_text('a = "Yes."', encoding="utf-8")
    monkeypatch.setattr("assistant.say.words.files", lambda _package: tmp_path)
    catalogue.cache_clear()
    try:
        with pytest.raises(WordsMissing, match=r"'a' has words twice.*two\.toml"):
            catalogue()
    finally:
        catalogue.cache_clear()
