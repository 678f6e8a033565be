"""What heat does to yeast in syrup: the papers' figures, and nothing beyond them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.yeast_death import THICKEST, decade_seconds, decades_in, decades_killed, z_of


def test_decade_at_50_in_concentrate() -> None:
    """Lee et al. (2023): 33.44 min at 50 degC, z 4.38 degC."""
    assert decade_seconds(50.0, 52.0) == pytest.approx(33.44 * 60)
    assert decade_seconds(54.38, 52.0) == pytest.approx(3.344 * 60)


@pytest.mark.parametrize(("temp_c", "seconds"), [(75, 90), (80, 90), (85, 5)])
def test_seven_decades_in_thick_juice(temp_c: float, seconds: float) -> None:
    """Rojo et al. (2019)."""
    assert decades_killed(temp_c, seconds, 65.0) == pytest.approx(7.0)


def test_z_as_they_print_it() -> None:
    """Lee et al. (2023): juice 5.69, broth 7.46 degC."""
    assert z_of(((45, 9.80), (47, 7.68), (50, 1.42))) == pytest.approx(5.69, abs=0.1)
    assert z_of(((45, 2.28), (46, 1.61), (47.5, 1.05))) == pytest.approx(7.46, abs=0.1)


def test_a_short_hold_in_thick_syrup_is_worth_little() -> None:
    assert decades_killed(75.0, 15.0, 60.0) < 1.2
    assert decades_killed(74.9, 3600.0, 60.0) == 0.0


def test_hotter_than_was_tried_earns_no_more() -> None:
    assert decade_seconds(60.0, 40.0) == decade_seconds(95.0, 40.0)
    assert decade_seconds(85.0, 60.0) == decade_seconds(99.0, 60.0)


@given(st.floats(40, 100), st.floats(0, THICKEST), st.floats(0, 5))
def test_sugar_never_helps_and_warmth_never_hurts(temp_c: float, brix: float, more: float) -> None:
    thin, thick = decades_killed(temp_c, 60, brix), decades_killed(temp_c, 60, THICKEST)
    assert thick <= thin or brix > 52 or temp_c >= 85
    assert decades_killed(temp_c + more, 60, brix) >= decades_killed(temp_c, 60, brix)


def test_the_cooler_of_two_readings_counts() -> None:
    assert decades_in([(0.0, 90.0), (90.0, 75.0)], 60.0) == pytest.approx(7.0)
    assert decades_in([(0.0, 90.0), (90.0, 74.0)], 60.0) == 0.0


@pytest.mark.parametrize("arguments", [(75, 90, 68.1), (131, 90, 60), (75, -1, 60)])
def test_what_nobody_tried_is_refused(arguments) -> None:
    with pytest.raises(OutOfRange):
        decades_killed(*arguments)
