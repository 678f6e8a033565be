"""What a pH means, what it leaves out, and measuring."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.acid import of_grams, titratable_acidity
from assistant.calc.acid_fit import fitted
from assistant.calc.acid_measure import (
    acidity_from_titration,
    acidity_of,
    activity_shift,
    trial_for_batch,
)


@pytest.mark.parametrize(
    ("ph", "unsure", "kind"),
    [  # 21 CFR 114.3 for 4.6; FDA juice guidance for 4.0
        (4.61, 0.0, "low-acid"),
        (4.59, 0.0, "acid"),
        (4.6, 0.0, "low-acid"),
        (4.5, 0.1, "doubtful"),
        (4.45, 0.1, "acid"),
        (4.35, 0.3, "doubtful"),
        (4.01, 0.0, "acid"),
        (4.0, 0.0, "well acid"),
        (3.95, 0.1, "acid"),
        (3.2, 0.3, "well acid"),
    ],
)
def test_bounds(ph: float, unsure: float, kind: str) -> None:
    assert acidity_of(ph, unsure).kind == kind


@given(st.floats(0, 14), st.floats(0, 1), st.floats(0, 1))
def test_more_doubt_is_never_kinder(ph: float, one: float, other: float) -> None:
    order = ["well acid", "acid", "doubtful", "low-acid"]
    less, more = sorted((one, other))
    assert order.index(acidity_of(ph, more).kind) >= order.index(acidity_of(ph, less).kind)


@pytest.mark.parametrize(("ph", "unsure"), [(-0.1, 0), (14.1, 0), (math.nan, 0), (3, 1.1)])
def test_no_meaning_out_of_range(ph: float, unsure: float) -> None:
    with pytest.raises(OutOfRange):
        acidity_of(ph, unsure)


def test_activity_matters_in_juice_and_not_in_pure_acid() -> None:
    assert abs(activity_shift(of_grams(citric=5))) < 0.01
    assert -0.25 < activity_shift(fitted(3.6, 12)) < -0.1


def test_titration_by_hand() -> None:
    """0.1 mol/l * 7.8 ml = 0.78 mmol; * 64.041 mg = 49.95 mg in 5 ml."""
    assert acidity_from_titration(5, 7.8) == pytest.approx(9.990, abs=0.002)


@given(st.floats(1, 60))
def test_titration_of_citric_acid_finds_it(grams: float) -> None:
    found = titratable_acidity(of_grams(citric=grams))
    base_ml = found / 64.041 * 10 / 0.1
    assert acidity_from_titration(10, base_ml) == pytest.approx(found, rel=1e-4)


@pytest.mark.parametrize(
    "values", [(0.5, 5, 0.1), (10, -1, 0.1), (10, 5, 3), (10, math.nan, 0.1), (math.inf, 5, 0.1)]
)
def test_titration_out_of_range(values: tuple[float, float, float]) -> None:
    with pytest.raises(OutOfRange):
        acidity_from_titration(*values)


def test_a_trial_by_hand() -> None:
    """2 g in 400 ml are 5 g a litre, so 3 litres take 15 g; the scale may be off by 0.05 g in 2."""
    spread = trial_for_batch(400, 2.0, 3.0)
    assert spread.likely == pytest.approx(15.0)
    assert (spread.low, spread.high) == pytest.approx((14.625, 15.375))


@given(st.floats(10, 5000), st.floats(0, 500), st.floats(0.05, 500))
def test_twice_the_batch_takes_twice_the_acid(sample: float, added: float, batch: float) -> None:
    one, two = trial_for_batch(sample, added, batch), trial_for_batch(sample, added, 2 * batch)
    assert two.likely == pytest.approx(2 * one.likely)
    assert 0 <= one.low <= one.likely <= one.high
