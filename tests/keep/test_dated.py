"""Dates that no clock of a kitchen shows: refused on their way in, told where they are in."""

import json
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from event_makers import begin, small_batch

from assistant.base.errors import StoreUnusable, WrongUse
from assistant.facts.events import Note, event_adapter
from assistant.keep import Journal, from_lines, to_lines
from assistant.keep.seal import seal
from assistant.past.lookback import LookBack

LATE = datetime(9999, 12, 31, 23, 59, tzinfo=UTC)
EARLY = datetime(1, 1, 1, tzinfo=UTC)


@pytest.mark.parametrize("at", [LATE, EARLY])
def test_a_line_with_such_a_date_is_named(at: datetime) -> None:
    lines = [*to_lines(small_batch()), *to_lines([Note(at=at, text="x")])]
    with pytest.raises(WrongUse, match=r"line 7 of f is dated .*, which no kitchen's clock shows"):
        from_lines(lines, "f")


def test_no_journal_takes_one() -> None:
    with Journal("sqlite://") as journal:
        journal.append("b", begin("b"), 0)
        with pytest.raises(WrongUse, match="batch b is dated 9999-12-31"):
            journal.append("b", Note(at=LATE, text="x"), 1)
        assert len(journal.events("b")) == 1


def test_one_that_is_in_already_hides_no_other_batch(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    with Journal(file) as journal:
        for name in ("a", "b"):
            journal.append(name, begin(name), 0)
    body = event_adapter.dump_json(Note(at=LATE, text="x")).decode()
    assert json.loads(body)["at"].startswith("9999")
    with closing(sqlite3.connect(file)) as base:
        row = ("b", 1, LATE.isoformat(), "note", body, seal("b", 1, body), "")
        base.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)", row)
        base.commit()
    with Journal(file) as journal:
        with pytest.raises(StoreUnusable, match=r"entry 1 of batch b .* is dated 9999-12-31"):
            journal.events("b")
        past = LookBack(journal)
        assert [brief.batch for brief in past.batches()] == ["a"]
        assert "9999-12-31" in past.complaints[0]
