"""Density against the published tables, and its inverses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc import density as d

BRIX = st.floats(0, 85)
TEMP = st.floats(0, 80)

# ICUMSA SPS-4 (1994), computed with its polynomial; g/ml.
SPS4 = [
    (0, 20, 0.99820), (10, 20, 1.03812), (20, 20, 1.08098), (30, 20, 1.12703),
    (40, 20, 1.17652), (50, 20, 1.22965), (60, 20, 1.28661), (65, 20, 1.31656),
    (70, 20, 1.34748), (85, 20, 1.44594), (0, 5, 0.99996), (5, 80, 0.99067),
    (10, 72, 1.01517), (70, 25, 1.34485), (60, 80, 1.25199), (85, 80, 1.41053),
]  # fmt: skip


@pytest.mark.parametrize(("brix", "temp_c", "published"), SPS4)
def test_density_is_that_of_the_sugar_table(brix, temp_c, published):
    assert d.density(brix, temp_c) == pytest.approx(published, abs=0.00001)


@pytest.mark.parametrize(
    ("brix", "temp_c"),
    [(-0.1, 20), (85.1, 20), (50, -0.1), (50, 80.1), (float("nan"), 20), (50, float("nan"))],
)
def test_outside_the_table_is_refused(brix, temp_c):
    with pytest.raises(OutOfRange):
        d.density(brix, temp_c)


@given(BRIX, TEMP)
def test_brix_from_density_turns_density_round(brix, temp_c):
    assert d.brix_from_density(d.density(brix, temp_c), temp_c) == pytest.approx(brix, abs=1e-6)


@given(BRIX)
def test_brix_from_gravity_turns_gravity_round(brix):
    gravity = d.specific_gravity(brix)
    assert d.brix_from_specific_gravity(gravity) == pytest.approx(brix, abs=1e-6)


@pytest.mark.parametrize("density", [0.99, 1.46])
def test_a_density_of_no_syrup_is_refused(density):
    with pytest.raises(OutOfRange, match="density"):
        d.brix_from_density(density)


@given(st.floats(0, 84), st.floats(0.01, 1), TEMP)
def test_more_sugar_is_denser(brix, more, temp_c):
    assert d.density(brix + more, temp_c) > d.density(brix, temp_c)


@given(st.floats(1, 1e5), BRIX, TEMP)
def test_volume_and_mass_turn_round(mass_g, brix, temp_c):
    ml = d.volume(mass_g, brix, temp_c)
    assert d.mass_of_volume(ml, brix, temp_c) == pytest.approx(mass_g)


@pytest.mark.parametrize("function", [d.volume, d.mass_of_volume])
def test_less_than_nothing_is_refused(function):
    with pytest.raises(OutOfRange):
        function(-1, 50)


def test_sixty_brix_shrinks_as_it_cools():
    """2.8 % from 80 to 20 degC, from the two densities of ICUMSA SPS-4 (1994)."""
    assert d.volume(1000, 60, 80) / d.volume(1000, 60) == pytest.approx(1.0277, abs=0.0001)
