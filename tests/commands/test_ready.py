"""`panside ready`: what is needed decides, what merely helps is told."""

from pathlib import Path

import pytest
from panside_process import objects, panside

from assistant.commands import ready
from assistant.hear.choose import Surveyed

HELPS = {"voice detector", "whisper", "second opinion", "vosk", "speaking over"}


def test_what_is_needed_and_what_helps_are_told_apart(tmp_path: Path) -> None:
    done = panside(tmp_path / "journal.sqlite", "ready", "--json")
    found = {row["name"]: row for row in objects(done)}
    assert {name for name, row in found.items() if not row.get("needed", True)} == HELPS
    for name in ("voice", "store", "data", "ears", "speaking over"):
        assert found[name]["there"], found[name]
    missing = [n for n, row in found.items() if not row["there"] and n not in HELPS]
    assert done.returncode == (4 if missing else 0)
    assert all(name in done.stderr for name in missing)
    assert not any(name in done.stderr for name in HELPS - {"vosk", "whisper"})


def test_what_is_missing_says_how_to_mend_it(monkeypatch: pytest.MonkeyPatch) -> None:
    gone = Surveyed("second opinion", False, "not there", "pip install it")
    monkeypatch.setattr(ready, "survey", lambda _: [gone])
    first, _ = ready._parts(None)
    assert (first.there, first.needed, first.detail) == (False, False, "not there; pip install it")
