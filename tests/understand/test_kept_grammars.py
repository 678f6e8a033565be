"""Grammars that were read before come from the cache, the same to the last tag."""

from pathlib import Path

import pytest

from assistant.base.data import folder
from assistant.base.errors import BadGrammar
from assistant.understand import jsgf_reading
from assistant.understand.kept_grammars import read_all

TEXTS = [
    (f.read_text("utf-8"), f.name) for f in folder("grammars").iterdir() if f.name.endswith("jsgf")
]


def test_what_is_kept_is_what_was_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = read_all(TEXTS, tmp_path)
    monkeypatch.setattr(jsgf_reading, "read", None)  # nothing is read a second time
    assert read_all(TEXTS, tmp_path) == first


def test_another_text_is_read_afresh(tmp_path: Path) -> None:
    head = "#JSGF V1.0; grammar a.b; "
    (one,) = read_all([(f"{head}public <yes> = yes;", "b.jsgf")], tmp_path)
    (two,) = read_all([(f"{head}public <yes> = yep;", "b.jsgf")], tmp_path)
    assert one != two


@pytest.mark.parametrize("spoiled", ["", "{", "[[1]]", '[["a", "b", [], [["x", ["z"]]]]]', "null"])
def test_a_spoiled_cache_is_read_over(tmp_path: Path, spoiled: str) -> None:
    first = read_all(TEXTS, tmp_path)
    (kept,) = tmp_path.iterdir()
    kept.write_text(spoiled, "utf-8")
    assert read_all(TEXTS, tmp_path) == first


def test_without_a_place_to_keep_them_they_are_read(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    assert read_all(TEXTS, tmp_path / "file" / "below")


def test_a_bad_grammar_is_told_and_not_kept(tmp_path: Path) -> None:
    with pytest.raises(BadGrammar):
        read_all([("#JSGF V1.0; grammar", "b.jsgf")], tmp_path)
    assert list(tmp_path.iterdir()) == []
