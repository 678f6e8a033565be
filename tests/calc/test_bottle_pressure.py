"""The pressure of a fermenting bottle."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.bottle_pressure import bottle_pressure, dissolved_volumes, henry_mpa


@pytest.mark.parametrize(("temp_c", "volumes"), [(0, 1.797), (10, 1.185), (20, 0.901)])
def test_gas_in_water_as_bunsen_had_it(temp_c: float, volumes: float) -> None:
    """Bunsen's coefficients, as reprinted in a treatise on beverages of the 1880s."""
    assert dissolved_volumes(temp_c) == pytest.approx(volumes, rel=0.06)


def test_all_gas_in_the_head_space_is_the_gas_law() -> None:
    """Thick syrup holds little: the pressure stays below n R T / V of the head space alone."""
    found = bottle_pressure(500, 25, 84, 1.0, 20)
    moles = 0.5 * 4 / 342.297
    assert found.high < moles * 8.314463 * 293.15 / 25 * 10


@given(st.floats(0, 80), st.floats(0.5, 90), st.floats(0, 39), st.floats(2, 500))
def test_more_sugar_warmth_and_brix_press_harder(
    brix: float, sugar: float, temp_c: float, air_ml: float
) -> None:
    here = bottle_pressure(500, air_ml, brix, sugar, temp_c)
    assert 0 < here.low <= here.likely <= here.high
    assert bottle_pressure(500, air_ml, brix, sugar + 1, temp_c).likely > here.likely
    assert bottle_pressure(500, air_ml, brix, sugar, temp_c + 1).likely > here.likely
    assert bottle_pressure(500, air_ml, brix + 2, sugar, temp_c).likely > here.likely
    assert bottle_pressure(500, air_ml + 5, brix, sugar, temp_c).likely < here.likely


def test_four_grams_a_litre_are_about_a_volume_of_gas() -> None:
    """Brewers reckon 4 g/l of sugar for a volume of gas, and water holds 0.9 of it at 20 degC."""
    found = bottle_pressure(1000, 1, 0.0, 4.0, 20)
    assert found.low == pytest.approx(1 / 0.9, rel=0.1)


def test_nothing_fermented_presses_nothing() -> None:
    assert bottle_pressure(500, 25, 62, 0.0, 20).high == 0.0


@pytest.mark.parametrize(
    "arguments",
    [
        (49, 25, 62, 4, 20),
        (500, 0.5, 62, 4, 20),
        (500, 25, 86, 4, 20),
        (500, 25, 62, 101, 20),
        (500, 25, 62, 4, 41),
    ],
)
def test_outside_is_refused(arguments) -> None:
    with pytest.raises(OutOfRange):
        bottle_pressure(*arguments)
    with pytest.raises(OutOfRange):
        henry_mpa(61)
