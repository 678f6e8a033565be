"""The sentence model that comes along, and the bank of labelled sentences."""

from pathlib import Path

import numpy as np
import pytest

import assistant
from assistant.base.errors import PansideError
from assistant.gist import Bank, model, shipped

ASKED = {
    "honey": ("can i use honey instead of sugar", "does honey work too"),
    "mould": ("there is white fluff floating on top", "something furry grows in it"),
    "baby": ("is it fit for my baby", "may an infant drink it"),
}


@pytest.fixture(scope="module")
def bank() -> Bank:
    labels = [label for label, said in ASKED.items() for _ in said]
    sentences = [text for said in ASKED.values() for text in said]
    return Bank(labels, sentences, np.stack([shipped().of(text) for text in sentences]))


def test_a_direction_has_unit_length_and_is_the_same_again() -> None:
    first = shipped().of("how many bottles will it make")
    assert first.shape == (384,)
    assert np.linalg.norm(first) == pytest.approx(1.0, abs=1e-3)
    assert (first == shipped().of("how many bottles will it make")).all()


@pytest.mark.parametrize(
    ("said", "label"),
    [
        ("would honey do", "honey"),
        ("my eight month old wants some", "baby"),
        ("there's something furry on top", "mould"),
    ],
)
def test_other_words_lie_nearest_to_what_they_mean(bank: Bank, said: str, label: str) -> None:
    best, second, *_ = bank.nearest(shipped().of(said))
    assert best.label == label
    assert best.alike > second.alike + 0.1


def test_talk_about_something_else_lies_near_to_nothing(bank: Bank) -> None:
    near = bank.nearest(shipped().of("the train leaves at half past nine"))
    assert near[0].alike < 0.3


def test_each_label_comes_once_best_first(bank: Bank) -> None:
    near = bank.nearest(shipped().of("honey"), most=3)
    assert len({found.label for found in near}) == 3
    assert [f.alike for f in near] == sorted((f.alike for f in near), reverse=True)


def test_a_long_text_is_cut_not_refused() -> None:
    assert shipped().of("sugar and water " * 200).shape == (384,)
    assert shipped().of("").shape == (384,)


@pytest.mark.parametrize("name", sorted(model.SUMS))
def test_a_file_that_is_not_as_published_is_refused_in_one_sentence(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(model.SUMS, name, "0" * 64)
    with pytest.raises(PansideError, match="sentence model that comes along can't be read"):
        model.SmallModel()._run("would honey do")


def test_the_manual_tells_the_sums_of_the_model() -> None:
    manual = (Path(assistant.__file__).parents[1] / "DEVELOPERS.md").read_text("utf-8")
    assert all(f"{digest}  {name}" in manual for name, digest in model.SUMS.items())
