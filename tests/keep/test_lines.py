"""Batches as JSON Lines."""

from pathlib import Path

import pytest
from event_makers import any_event, begin, begins, reading, small_batch
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import WrongUse
from assistant.facts.events import AnyEvent, Begin
from assistant.keep import Journal, export_batch, from_lines, import_batch, renamed, to_lines

BATCH = "2026-07-04-1"


@given(st.lists(any_event, max_size=6))
def test_lines_come_back_as_the_events(events: list[AnyEvent]) -> None:
    lines = list(to_lines(events))
    assert from_lines(lines) == tuple(events)
    assert all(line.count("\n") == 1 and line.endswith("\n") for line in lines)


@settings(max_examples=20)
@given(begins, st.lists(any_event, max_size=4))
def test_an_exported_batch_can_be_imported(first: Begin, events: list[AnyEvent]) -> None:
    batch = (first, *events)
    with Journal("sqlite://") as one, Journal("sqlite://") as two:
        one.append_all(first.batch, batch, 0)
        lines = list(export_batch(one, first.batch))
        assert import_batch(two, lines) == first.batch
        assert two.events(first.batch) == batch
        assert list(export_batch(two, first.batch)) == lines


@given(st.lists(any_event, min_size=1, max_size=4))
def test_a_file_written_and_read_keeps_its_lines(events: list[AnyEvent]) -> None:
    text = "".join(to_lines(events))
    assert from_lines(text.split("\n")) == tuple(events)


def test_through_a_file(tmp_path: Path) -> None:
    path = tmp_path / "batch.jsonl"
    with Journal(tmp_path / "one.sqlite") as one, path.open("w", encoding="utf-8") as out:
        one.append_all(BATCH, small_batch(), 0)
        out.writelines(export_batch(one, BATCH))
    with Journal(tmp_path / "two.sqlite") as two, path.open(encoding="utf-8") as lines:
        assert import_batch(two, lines) == BATCH
        assert two.events(BATCH) == small_batch()


def test_blank_lines_are_left_out() -> None:
    first, second = to_lines([begin(), reading(1)])
    assert from_lines([first, "\n", second, ""]) == (begin(), reading(1))


def test_under_another_id() -> None:
    with Journal("sqlite://") as journal:
        journal.append_all(BATCH, small_batch(), 0)
        lines = list(export_batch(journal, BATCH))
        with pytest.raises(WrongUse, match=f"batch {BATCH} is in .* already; give another id"):
            import_batch(journal, lines)
        assert import_batch(journal, lines, batch_id="copy") == "copy"
        assert journal.events("copy") == (renamed(begin(), "copy"), *small_batch()[1:])
        assert journal.events(BATCH) == small_batch()


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (["", "no JSON\n"], "line 2 of pan.jsonl is not an event"),
        (['{"kind":"stir"}\n'], "line 1 of pan.jsonl is not an event"),
        (list(to_lines([reading(1)])), "pan.jsonl does not start with the beginning"),
        ([], "pan.jsonl does not start with the beginning"),
    ],
)
def test_lines_that_are_no_batch_change_nothing(lines: list[str], message: str) -> None:
    with Journal("sqlite://") as journal:
        with pytest.raises(WrongUse, match=message):
            import_batch(journal, lines, name="pan.jsonl")
        assert journal.batches() == []


def test_an_unknown_batch_cannot_be_exported() -> None:
    with Journal("sqlite://") as journal, pytest.raises(WrongUse, match="no batch nowhere"):
        export_batch(journal, "nowhere")
