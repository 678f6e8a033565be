"""The tokens that Whisper writes in."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tokenizers import Tokenizer

from assistant.hear.whisper_model import model_folder
from assistant.hear.whisper_tokens import begin, text_of

TRANSCRIPT, NO_TIMES, PREVIOUS = "<|startoftranscript|>", "<|notimestamps|>", "<|startofprev|>"
FILE = model_folder() / "tokenizer.json"
KNOWN = Tokenizer.from_file(str(FILE))
TEXT_ENDS = KNOWN.token_to_id("<|endoftext|>")


def test_a_transcript_begins_without_times() -> None:
    assert begin(FILE) == [TRANSCRIPT, NO_TIMES]


def test_what_was_said_before_comes_first() -> None:
    first, *said, last, no_times = begin(FILE, "Grams, kilos. ")
    assert (first, last, no_times) == (PREVIOUS, TRANSCRIPT, NO_TIMES)
    assert said == KNOWN.encode(" Grams, kilos.", add_special_tokens=False).tokens
    assert text_of(said) == "Grams, kilos."


def test_a_model_of_many_languages_is_told_which_and_what_to_do() -> None:
    told = begin(FILE, multilingual=True)
    assert told == [TRANSCRIPT, "<|en|>", "<|transcribe|>", NO_TIMES]
    assert text_of(told) == ""


@settings(max_examples=300)
@given(st.lists(st.integers(0, TEXT_ENDS + 10), max_size=8))
def test_text_is_read_as_the_published_list_reads_it(numbers: list[int]) -> None:
    read = text_of([KNOWN.id_to_token(number) for number in numbers])
    assert read == KNOWN.decode(numbers, skip_special_tokens=True).strip()


def test_a_list_that_lacks_a_mark_is_refused(tmp_path: Path) -> None:
    without = tmp_path / "tokenizer.json"
    without.write_text(FILE.read_text("utf-8").replace(NO_TIMES, "<|x|>"), "utf-8")
    with pytest.raises(ValueError, match=r"lacks <[|]notimestamps"):
        begin(without)
