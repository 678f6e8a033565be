"""Scores as shares of belief."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.hear.shares import once, plain, shares


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("72 degrees.", "72 degrees"),
        ("  72   Degrees ", "72 degrees"),
        ("Yes!", "yes"),
        ("pH 3.1.", "ph 3.1"),
        ("1,200", "1,200"),
        ("...", ""),
    ],
)
def test_texts_that_differ_only_in_dress_are_one(text: str, same: str) -> None:
    assert plain(text) == same


@pytest.mark.parametrize(("one", "other"), [("1.5", "15"), ("-18", "18"), ("1/2", "12")])
def test_signs_within_a_text_count(one: str, other: str) -> None:
    assert len(shares([(one, -1.0), (other, -1.0)])) == 2


def test_shares_of_equal_texts_are_added() -> None:
    found = shares([("72 degrees.", -1.0), ("70-2 degrees", -1.0), ("72 degrees", -1.0)])
    assert [guess.text for guess in found] == ["72 degrees.", "70-2 degrees"]
    assert [guess.share for guess in found] == pytest.approx([2 / 3, 1 / 3])


def test_the_empty_text_takes_its_share_along() -> None:
    (guess,) = shares([("", -1.0), ("you", -1.0)])
    assert guess.share == pytest.approx(0.5)


def test_nothing_gives_nothing() -> None:
    assert shares([]) == shares([(" . ", -1.0)]) == ()


scored = st.lists(st.tuples(st.text("ab .A", max_size=4), st.floats(-2000, 300)), max_size=8)


@given(scored)
def test_shares_are_ordered_and_add_up_to_one_at_most(
    given_scores: list[tuple[str, float]],
) -> None:
    found = shares(given_scores)
    each = [guess.share for guess in found]
    assert each == sorted(each, reverse=True)
    assert sum(each) <= 1 + 1e-9
    assert len({plain(guess.text) for guess in found}) == len(found)
    if given_scores and all(plain(text) for text, _ in given_scores):
        assert sum(each) == pytest.approx(1.0)


@given(scored, st.floats(-500, 500))
def test_only_differences_of_scores_matter(
    given_scores: list[tuple[str, float]], shift: float
) -> None:
    moved = shares([(text, score + shift) for text, score in given_scores])
    found = shares(given_scores)
    assert {plain(g.text) for g in moved} == {plain(g.text) for g in found}
    assert [g.share for g in moved] == pytest.approx([g.share for g in found], abs=1e-6)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("15. 15.", "15."), ("Stop. stop! Stop.", "Stop."), ("No, no.", "No, no."), ("5.5", "5.5"),
        ("5. 6.", "5. 6."), ("no no", "no no"), ("", ""), ("...", "..."), ("p. h. 3", "p. h. 3"),
    ],
)  # fmt: skip
def test_what_is_written_twice_was_said_once(text: str, said: str) -> None:
    assert once(text) == said


def test_a_repetition_is_no_rival_of_its_own() -> None:
    (guess,) = shares([("15.", -1.0), ("15. 15.", -0.5)])
    assert (guess.text, guess.share) == ("15.", pytest.approx(1.0))
