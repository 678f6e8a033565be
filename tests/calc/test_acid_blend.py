"""Several acids in proportion up to a titratable acidity."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc.acid import Mixture, of_grams, titratable_acidity
from assistant.calc.acid_blend import acids_for_acidity
from assistant.calc.acid_constants import ACIDS


@settings(max_examples=40, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["citric", "malic", "tartaric", "lactic"]), st.floats(0.1, 5), min_size=1
    ),
    st.floats(0, 20),
    st.floats(0.1, 20),
)
def test_the_acids_do_what_they_say(parts: dict[str, float], citric: float, more: float) -> None:
    before = of_grams(citric=citric)
    target = titratable_acidity(before) + more
    after = before
    for name, grams in acids_for_acidity(before, parts, target).items():
        after = after.plus(name, grams / ACIDS[name].molar_mass)
    assert titratable_acidity(after) == pytest.approx(target, rel=1e-6)


def test_proportions_are_by_weight() -> None:
    grams = acids_for_acidity(Mixture(), {"citric": 2, "malic": 1}, 6)
    assert grams["citric"] == pytest.approx(2 * grams["malic"])


def test_malic_acid_is_a_little_stronger_by_weight() -> None:
    """64.04 g of citric acid to a mole of base, 67.04 g of malic: molar masses over protons."""
    alone = acids_for_acidity(Mixture(), {"malic": 1}, 10)["malic"]
    assert alone == pytest.approx(10 * 67.04 / 64.04, rel=0.002)


def test_enough_is_enough() -> None:
    assert acids_for_acidity(of_grams(citric=20), {"citric": 1}, 10) == {"citric": 0.0}


@pytest.mark.parametrize("parts", [{}, {"citric": 0.0}, {"citric": -1.0}])
def test_no_parts_are_refused(parts: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        acids_for_acidity(Mixture(), parts, 10)


def test_unknown_acids_are_named() -> None:
    with pytest.raises(WrongUse, match="citric"):
        acids_for_acidity(Mixture(), {"lemon": 1}, 10)
