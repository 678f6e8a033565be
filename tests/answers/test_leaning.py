"""What the ways of asking of one card have in common, fitted."""

import numpy as np
import pytest

from assistant.answers.directions import kept_leaning
from assistant.answers.leaning import fit
from assistant.answers.match import find
from assistant.gist import shipped


def test_a_direction_leans_to_its_own_kind() -> None:
    rng = np.random.default_rng(4)
    middle = rng.normal(size=(3, 16)).astype(np.float32)
    rows = np.repeat(middle, 20, axis=0) + 0.3 * rng.normal(size=(60, 16)).astype(np.float32)
    rows /= np.linalg.norm(rows, axis=1, keepdims=True)
    labels = [name for name in "abc" for _ in range(20)]
    leaning = fit(labels[1:], rows[1:])
    shares = leaning.of(rows[0])
    assert max(shares, key=lambda name: shares[name]) == "a"
    assert sum(shares.values()) == pytest.approx(1.0, abs=1e-5)


def test_the_one_that_comes_along_knows_the_cards() -> None:
    shares = kept_leaning().of(shipped().of("would a spoon of honey do"))
    assert max(shares, key=lambda name: shares[name]) == "sugar.honey"


@pytest.mark.parametrize(
    ("said", "card"),
    [
        ("can i chuck in a splash of whisky", "taste.alcohol"),
        ("my pot is aluminium", "heat.pans"),
    ],
)
def test_words_that_no_card_has_are_put_with_the_right_one(said: str, card: str) -> None:
    assert find(said, shipped())[0].card == card
