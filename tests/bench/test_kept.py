"""Results that are kept: until the code that made them changes, and over a run that was killed."""

from pathlib import Path

import pytest

from tests.bench.kept import ROOT, Kept, code_of
from tests.bench.result import Made

SPHINX = "tests/bench/stages.jsgf"


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The code that engines and report are made of, small."""
    for name in (
        "tests/bench/engines.py", "tests/bench/report.py", "tests/bench/measures.py",
        "tests/bench/plain_numbers.py", SPHINX, "assistant/hear/voice_activity.py",
        "assistant/hear/whisper_ears.py", "assistant/understand/decide.py",
        "assistant/understand/belief.toml", "grammars/numbers.jsgf",
    ):  # fmt: skip
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text((ROOT / name).read_text("utf-8"), "utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("name", "anew"),
    [
        ("tests/bench/report.py", set()),
        ("tests/bench/measures.py", set()),
        ("tests/bench/plain_numbers.py", {"whisper"}),
        (SPHINX, {"pocketsphinx"}),
        ("assistant/hear/voice_activity.py", {"ours", "whisper", "pocketsphinx"}),
        ("assistant/hear/whisper_ears.py", {"ours"}),
        ("assistant/understand/decide.py", {"ours", "pocketsphinx"}),
        ("assistant/understand/belief.toml", {"ours", "pocketsphinx"}),
        ("grammars/numbers.jsgf", {"ours", "pocketsphinx"}),
    ],
)
def test_a_change_throws_away_what_it_made_and_nothing_else(
    copy: Path, name: str, anew: set[str]
) -> None:
    engines = ("ours", "whisper", "pocketsphinx")
    before = {engine: code_of.__wrapped__(engine, copy) for engine in engines}
    (copy / name).write_text("# another\n", "utf-8")
    after = {engine: code_of.__wrapped__(engine, copy) for engine in engines}
    assert {engine for engine in engines if before[engine] != after[engine]} == anew


def test_results_are_there_again_after_a_line_that_was_cut_off(tmp_path: Path) -> None:
    file = tmp_path / "results.jsonl"
    store = Kept(file)
    for key in ("one", "two", "three"):
        store.add(key, Made(heard=(key,)))
    file.write_bytes(file.read_bytes()[:-20])
    again = Kept(file)
    assert [again.get(key) is not None for key in ("one", "two", "three")] == [True, True, False]
    again.add("three", Made(heard=("three",)))
    assert all(Kept(file).get(key) == Made(heard=(key,)) for key in ("one", "two", "three"))
