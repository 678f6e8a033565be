"""Typed lines, and what rings while nobody types."""

import io
import json
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from panside_process import Typing

from assistant.commands.typing_in import LONGEST_LINE, typed


@pytest.fixture
def keyboard(monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """The writing end of a pipe that is read as the keyboard."""
    reading, writing = os.pipe()
    with os.fdopen(reading) as stdin:
        monkeypatch.setattr(sys, "stdin", stdin)
        yield writing


def test_a_tick_comes_where_nobody_types(keyboard: int) -> None:
    lines = typed(tick_s=0.01)
    assert next(lines) is None
    os.write(keyboard, b"1 kg\ndone\n4")
    assert [next(lines), next(lines), next(lines)] == ["1 kg", "done", None]
    os.write(keyboard, b"4\n")
    assert next(lines) == "44"
    os.write(keyboard, b"stop")
    os.close(keyboard)
    assert [line for line in lines if line] == ["stop"]


def test_a_line_without_end_is_cut_and_the_next_one_is_whole(keyboard: int) -> None:
    lines = typed(tick_s=0.01)
    for _ in range(3):
        os.write(keyboard, b"9" * 20_000)
        assert next(lines) is None
    os.write(keyboard, b"\ndone\n")
    assert next(lines) == "9" * LONGEST_LINE
    assert next(lines) == "done"


def test_bytes_that_are_no_text_become_marks(keyboard: int) -> None:
    os.write(keyboard, b"note \xff dark\n")
    assert next(typed(tick_s=0.01)) == "note \ufffd dark"


def test_what_cannot_be_waited_for_is_read_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("1 kg\n" + "9" * 5000 + "\ndone\n"))
    assert [line.strip() for line in typed() if line] == ["1 kg", "9" * LONGEST_LINE, "done"]


def test_a_timer_rings_in_a_chat_where_nobody_types(tmp_path: Path) -> None:
    chat = Typing(tmp_path / "journal.sqlite", "--recipe", "berry-syrup")
    assert chat.says("set a timer for one second called jars")["verdict"] == "take"
    assert chat.process.stdout is not None
    rung = json.loads(chat.process.stdout.readline())
    assert (rung["heard"], rung["say"]) == ("", "Time is up: jars.")
    assert chat.says("where are we")["stage"] == "weigh"
    assert chat.ends() == 0


def test_a_timer_rings_after_a_restart(tmp_path: Path) -> None:
    store = tmp_path / "journal.sqlite"
    chat = Typing(store, "--recipe", "berry-syrup")
    chat.says("set a timer for two seconds called jars")
    chat.process.kill()
    chat.process.communicate()
    again = Typing(store)
    assert again.process.stdout is not None
    assert json.loads(again.process.stdout.readline())["say"] == "Time is up: jars."
    again.ends()
