"""Boiling points by sugar and height."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.boiling import (
    air_pressure,
    boiling_point,
    boils_at,
    brix_boiling_at,
    vapour_pressure,
)


def test_water_boils_at_the_standard_pressure() -> None:
    """IAPWS: 99.974 degC at 101.325 kPa."""
    assert boils_at(0.0) == pytest.approx(99.974, abs=0.01)


@pytest.mark.parametrize(("altitude_m", "boils_c"), [(0, 100.0), (1500, 95.0), (3000, 90.0)])
def test_height_lowers_the_boiling_point(altitude_m: float, boils_c: float) -> None:
    """A degree for each 300 m: McGee, On Food and Cooking (2004)."""
    assert boiling_point(0.0, altitude_m).likely == pytest.approx(boils_c, abs=0.4)


@given(st.floats(0, 88), st.floats(0.5, 2), st.floats(0, 4000))
def test_more_sugar_boils_hotter(brix: float, more: float, altitude_m: float) -> None:
    assert boiling_point(brix + more, altitude_m).likely > boiling_point(brix, altitude_m).likely


@given(st.floats(5, 89), st.floats(0, 3000))
def test_brix_comes_back_from_its_boiling_point(brix: float, altitude_m: float) -> None:
    found = brix_boiling_at(boiling_point(brix, altitude_m).likely, altitude_m)
    assert found.likely == pytest.approx(brix, abs=0.01)
    assert found.low <= found.likely <= found.high


def test_tables_part_so_the_high_end_is_the_older_one() -> None:
    """A confectioners' table has 106.5 C at 70 Brix, where measurements give 105."""
    assert boiling_point(70).high >= 106.5
    assert boiling_point(70).likely < 105.2


def test_water_tells_no_brix() -> None:
    assert brix_boiling_at(99.0).likely == 0.0


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (vapour_pressure, (151,)),
        (air_pressure, (5001,)),
        (boils_at, (90.1,)),
        (boils_at, (60, 9.0)),
        (boiling_point, (float("nan"),)),
        (brix_boiling_at, (140.0,)),
        (brix_boiling_at, (59.0,)),
    ],
)
def test_outside_is_refused(function, arguments) -> None:
    with pytest.raises(OutOfRange):
        function(*arguments)
