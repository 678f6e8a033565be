"""Summaries: worked out once, again after a change, and never older than the events."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from event_makers import reading, small_batch

from assistant.facts.events import AnyEvent, Begin
from assistant.keep import NEVER, Journal, Summaries, Summary
from assistant.keep.summaries import _FIELDS, sealed

NAMES = ("a", "b", "c")


class Maker:
    """Counts the events, and how often it is asked."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def __call__(self, events: tuple[AnyEvent, ...]) -> Summary:
        first = events[0]
        assert isinstance(first, Begin)
        self.asked.append(first.batch)
        return Summary(
            batch=first.batch, events=len(events), begun=f"2026-{first.batch}",
            last=f"2026-{len(events)}", recipe="syrup", fruit=first.batch,
            open=first.batch != "b", filled="2026-07-01",
            emptied=NEVER if first.batch == "a" else "2026-07-10",
            body=json.dumps({"events": len(events)}),
        )  # fmt: skip


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    journal = Journal(tmp_path / "s.sqlite")
    for name in NAMES:
        journal.append_all(name, small_batch(name), 0)
    return journal


def names(found: list[Summary]) -> list[str]:
    return [row.batch for row in found]


def test_each_is_worked_out_once(journal: Journal) -> None:
    make = Maker()
    summaries = Summaries(journal, "1", make)
    assert names(summaries.latest()) == ["c", "b", "a"]
    assert names(summaries.latest(2)) == ["c", "b"]
    assert sorted(make.asked) == ["a", "b", "c"]
    assert [row.events for row in Summaries(journal, "1", make).latest()] == [6, 6, 6]
    assert len(make.asked) == 3


def test_one_that_went_on_is_worked_out_again(journal: Journal) -> None:
    make = Maker()
    Summaries(journal, "1", make).refresh()
    journal.append("b", reading(6), 6)
    assert {r.batch: r.events for r in Summaries(journal, "1", make).latest()} == {
        "a": 6, "b": 7, "c": 6
    }  # fmt: skip
    assert make.asked.count("b") == 2


def test_all_are_worked_out_again_by_another_version(journal: Journal) -> None:
    make = Maker()
    Summaries(journal, "1", make).refresh()
    Summaries(journal, "2", make).refresh()
    assert sorted(make.asked) == sorted(2 * NAMES)


def test_of_much_by_another_version_only_what_is_asked_for_is_worked_out(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    make = Maker()
    Summaries(journal, "1", make).refresh()
    monkeypatch.setattr("assistant.keep.summaries._AT_A_LOOK", 2)
    later = Summaries(journal, "2", make)
    make.asked.clear()
    assert names(later.shelved("2026-08-01")) == ["a"]
    assert make.asked == ["a"]
    assert "--afresh" in later.complaints[0]
    later.refresh(afresh=True)
    assert sorted(make.asked) == ["a", "b", "c"]
    later.refresh()
    assert later.complaints == []


def test_what_is_asked_for_is_found(journal: Journal) -> None:
    summaries = Summaries(journal, "1", Maker())
    assert names(summaries.shelved("2026-07-09")) == ["a", "b", "c"]
    assert names(summaries.shelved("2026-07-10")) == ["a"]
    assert names(summaries.shelved("2026-06-30")) == []
    assert names(summaries.unfinished()) in (["a"], ["c"])
    assert names(summaries.unfinished("soup")) == []
    assert names(summaries.alike("syrup", "b")) == ["b"]
    assert names(summaries.alike("syrup", "b", before="2026-a")) == []
    assert summaries.count() == 3


def test_an_event_written_while_it_is_worked_out_is_not_forgotten(journal: Journal) -> None:
    make = Maker()

    def slow(events: tuple[AnyEvent, ...]) -> Summary:
        if len(events) == 6:
            journal.append(events[0].batch, reading(6), 6)  # type: ignore[union-attr]
        return make(events)

    assert {row.events for row in Summaries(journal, "1", slow).latest()} == {7}


def test_a_newer_one_is_not_written_over(journal: Journal) -> None:
    make = Maker()
    other = Summaries(journal, "1", make)

    def overtaken(events: tuple[AnyEvent, ...]) -> Summary:
        if events[0].batch == "b" and len(events) == 6:  # type: ignore[union-attr]
            journal.append("b", reading(6), 6)
            other.refresh()
        return make(events)

    found = Summaries(journal, "1", overtaken).latest()
    assert {row.batch: row.events for row in found}["b"] == 7


def test_one_that_cannot_be_read_hides_no_other(journal: Journal, tmp_path: Path) -> None:
    journal.close()
    file = tmp_path / "s.sqlite"
    file.write_bytes(file.read_bytes().replace(b'"batch":"b"', b'"batch":"x"'))
    summaries = Summaries(Journal(file), "1", Maker())
    assert names(summaries.latest()) == ["c", "a"]
    assert len(summaries.complaints) == 1
    assert "entry 0 of batch b" in summaries.complaints[0]


def test_another_program_that_goes_on_writing_is_not_raced_for_ever(journal: Journal) -> None:
    make = Maker()

    def raced(events: tuple[AnyEvent, ...]) -> Summary:
        assert len(make.asked) < 50, "it never ends"
        if events[0].batch == "b":  # type: ignore[union-attr]
            journal.append("b", reading(len(events)), len(events))
        return make(events)

    found = {row.batch: row.events for row in Summaries(journal, "1", raced).latest()}
    assert found == {"a": 6, "b": 8, "c": 6}
    assert {row.batch: row.events for row in Summaries(journal, "1", make).latest()}["b"] == 9


def test_two_versions_at_once_do_not_race_for_ever(journal: Journal) -> None:
    older, newer = Maker(), Maker()

    def overruled(events: tuple[AnyEvent, ...]) -> Summary:
        """Whatever the newer version works out, the older one works out again at once."""
        assert len(newer.asked) < 50, "it never ends"
        made = newer(events)
        again.add(made.batch)
        return made

    again: set[str] = set()

    class Overruled(Summaries):
        def _rows(self, wanted: Any) -> list[dict[str, Any]]:
            rows = super()._rows(wanted)
            return [older_one(row) if row["batch"] in again else row for row in rows]

    def older_one(row: dict[str, Any]) -> dict[str, Any]:
        return sealed(Summary(**{k: row[k] for k in _FIELDS}), "1")

    Summaries(journal, "1", older).refresh()
    assert names(Overruled(journal, "2", overruled).latest()) == ["c", "b", "a"]
    assert again == set(NAMES)


def flip(file: Path, column: str, before: str, after: str) -> None:
    """Change one letter of a summary behind the journal's back."""
    with closing(sqlite3.connect(file)) as base:
        sql = f"UPDATE summaries SET {column} = replace({column}, ?, ?)"
        assert base.execute(sql, (before, after)).rowcount
        base.commit()


@pytest.mark.parametrize(
    ("column", "before", "after"),
    [
        ("body", '"events": 6', '"events": 9'),
        ("events", "6", "7"),
        ("fruit", "b", "c"),
        ("batch", "b", "x"),
        ("seal", "a", "b"),
        ("code", "1", "2"),
        ("filled", "2026-07-01", "2026-06-01"),
    ],
)
def test_one_that_was_changed_is_not_believed(
    journal: Journal, tmp_path: Path, column: str, before: str, after: str
) -> None:
    good = Summaries(journal, "1", Maker()).latest()
    flip(tmp_path / "s.sqlite", column, before, after)
    summaries = Summaries(journal, "1", Maker())
    assert summaries.latest() == good
    assert summaries.latest() == good
    assert summaries.complaints == []


def test_one_that_was_changed_and_cannot_be_worked_out_is_told_and_left_out(
    journal: Journal, tmp_path: Path
) -> None:
    Summaries(journal, "1", Maker()).refresh()
    journal.close()
    file = tmp_path / "s.sqlite"
    flip(file, "body", '"events": 6', '"events": 9')
    file.write_bytes(file.read_bytes().replace(b'"batch":"b"', b'"batch":"x"'))
    summaries = Summaries(Journal(file), "1", Maker())
    assert names(summaries.latest()) == ["c", "a"]
    assert "entry 0 of batch b" in summaries.complaints[0]
