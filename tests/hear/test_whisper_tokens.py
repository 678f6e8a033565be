"""The tokens that Whisper writes in."""

from pathlib import Path

import pytest

from assistant.hear.whisper_model import model_folder
from assistant.hear.whisper_tokens import Tokens

TRANSCRIPT, END, PREVIOUS, NO_TIMES = 50257, 50256, 50360, 50362
"""Of Whisper's English models, as in the reference program's `tokenizer.py`; from memory."""


@pytest.fixture(scope="module")
def file() -> Path:
    return model_folder() / "tokenizer.json"


def test_a_transcript_begins_without_times(file: Path) -> None:
    assert Tokens(file).after("") == [TRANSCRIPT, NO_TIMES]


def test_what_was_said_before_comes_first(file: Path) -> None:
    tokens = Tokens(file)
    first, *said, begin, no_times = tokens.after("Grams, kilos. ")
    assert (first, begin, no_times) == (PREVIOUS, TRANSCRIPT, NO_TIMES)
    assert tokens.text(said) == "Grams, kilos."


def test_a_model_of_many_languages_is_told_which_and_what_to_do(file: Path) -> None:
    begin, *told, no_times = Tokens(file, multilingual=True).after("")
    assert (begin, no_times) == (TRANSCRIPT, NO_TIMES)
    assert len(told) == 2
    assert Tokens(file).text([begin, *told, no_times]) == ""


def test_marks_are_no_text(file: Path) -> None:
    tokens = Tokens(file)
    _, *said, begin, _ = tokens.after("70 degrees")
    assert tokens.text([begin, *said, END]) == "70 degrees"


def test_a_list_that_lacks_a_mark_is_refused(tmp_path: Path, file: Path) -> None:
    without = tmp_path / "tokenizer.json"
    without.write_text(file.read_text("utf-8").replace("<|notimestamps|>", "<|x|>"), "utf-8")
    with pytest.raises(ValueError, match=r"lacks <.notimestamps.>"):
        Tokens(without)
