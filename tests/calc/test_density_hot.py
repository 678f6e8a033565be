"""Density past 80 degC."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.density import density
from assistant.calc.density_hot import hot_density


@given(st.floats(0, 85), st.floats(0, 80))
def test_to_80_it_is_the_formula_itself(brix: float, temp_c: float) -> None:
    found = hot_density(brix, temp_c)
    assert found.low == found.high == density(brix, temp_c)


@given(st.floats(0, 85))
def test_it_goes_on_without_a_jump(brix: float) -> None:
    assert hot_density(brix, 80.001).likely == pytest.approx(density(brix, 80.0), rel=1e-5)


@given(st.floats(0, 85), st.floats(80, 104), st.floats(0.1, 1))
def test_hotter_is_lighter(brix: float, temp_c: float, more: float) -> None:
    assert hot_density(brix, temp_c + more).likely < hot_density(brix, temp_c).likely


@pytest.mark.parametrize(("temp_c", "published"), [(90, 0.96531), (95, 0.96189), (100, 0.95835)])
def test_water_as_published(temp_c: float, published: float) -> None:
    """CRC Handbook, density of water, from memory."""
    found = hot_density(0.0, temp_c)
    assert found.likely == pytest.approx(published, abs=0.0001)
    assert found.about(published)


@pytest.mark.parametrize(("brix", "temp_c"), [(60, 105.1), (85.1, 90), (60, -0.1)])
def test_outside_is_refused(brix: float, temp_c: float) -> None:
    with pytest.raises(OutOfRange):
        hot_density(brix, temp_c)
