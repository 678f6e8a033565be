"""The parts of the recipe that need no GPU: texts, their writing, model files, voices."""

import json
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.facts.asked import Asked
from assistant.hear import model_file
from assistant.hear.whisper_model import model_folder
from tests.bench.corpus.numbers import full
from tests.bench.corpus.speakers import SPEAKERS
from tests.bench.corpus.split import split_of
from tests.bench.engines import typed
from tests.bench.tuning import voices
from tests.bench.tuning.texts import texts
from tests.bench.tuning.writing import in_figures


@given(number=st.integers(2, 1999), and_said=st.booleans())
def test_a_number_in_full_is_written_in_its_figures(number: int, and_said: bool) -> None:
    assert in_figures(full(number, and_said)) == str(number)


@given(whole=st.integers(2, 99), places=st.integers(1, 9))
def test_a_number_with_a_point_keeps_it(whole: int, places: int) -> None:
    assert in_figures(f"{full(whole)} point {full(places)} kilos") == f"{whole}.{places} kilos"


def test_no_phrase_of_the_held_out_split_is_trained_on() -> None:
    drawn = list(texts(300, 7))
    said = [words for source, words, _ in drawn if source in ("phrases", "grammar")]
    assert len(said) > 150
    assert {split_of(words) for words in said} == {"dev"}


def test_what_is_written_is_understood_as_what_is_said() -> None:
    for source, words, text in texts(300, 8):
        if source == "grammar":
            assert typed(words, Asked()) == typed(text, Asked()), (words, text)


def test_nobody_who_is_held_out_or_chooses_speaks_for_training() -> None:
    kept = {each.name for each in SPEAKERS if each.split == "held"} | set(voices.CHOOSING)
    speaking = {name for name, _, _ in voices.others()}
    styles = {f"kokoro-{style}" for style in (*voices.ENGLISH, *voices.FOREIGN)}
    assert speaking
    assert not kept & (speaking | styles)


def test_drawn_styles_are_of_the_two_lists() -> None:
    for place in range(200):
        drawn = voices.kokoro(Random(place))
        assert set(drawn.styles) <= {*voices.ENGLISH, *voices.FOREIGN}


@pytest.mark.audio
def test_a_model_file_is_written_as_it_was_read(tmp_path: Path) -> None:
    file = model_folder() / "model.bin"
    model_file.write(model_file.read(file), tmp_path / "model.bin")
    assert (tmp_path / "model.bin").read_bytes() == file.read_bytes()


def test_texts_are_the_same_for_the_same_seed() -> None:
    assert json.dumps(list(texts(40, 5))) == json.dumps(list(texts(40, 5)))
