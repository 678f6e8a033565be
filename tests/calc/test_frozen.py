"""Frozen fruit: the heat to thaw it, and where hot water on it ends."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.frozen import FREEZING_C, fruit_heat, onto_frozen
from assistant.calc.heat import Part, cp_fruit, mixing_temperature

HOT = Part(1000.0, 4.19, 95.0)


def test_thawing_takes_about_as_much_as_its_ice() -> None:
    """Strawberries, 0.893 water: 323 J/g from -20 to 0 degC (Riedel, ASHRAE; from memory)."""
    takes = fruit_heat(0.893, 0.0, -0.8) - fruit_heat(0.893, -20.0, -0.8)
    assert takes == pytest.approx(323, rel=0.03)


@given(st.floats(-39, 95), st.floats(0.1, 5), st.floats(0.7, 0.95))
def test_warmer_fruit_holds_more_heat(temp_c: float, more: float, water: float) -> None:
    assert fruit_heat(water, temp_c + more) > fruit_heat(water, temp_c)


def test_heat_does_not_jump_where_freezing_begins() -> None:
    below, above = (fruit_heat(0.88, FREEZING_C + d) for d in (-1e-6, 1e-6))
    assert above - below < 0.01


def test_frozen_fruit_ends_far_colder_than_fruit_from_the_fridge() -> None:
    fridge = mixing_temperature([HOT, Part(1000.0, cp_fruit(0.88, 5.0), 5.0)])
    frozen = onto_frozen(1000.0, 0.88, -18.0, [HOT]).temp_c
    assert fridge - frozen.likely > 35
    assert frozen.low < frozen.likely < frozen.high


def test_too_little_hot_water_leaves_ice() -> None:
    found = onto_frozen(1000.0, 0.88, -18.0, [Part(200.0, 4.19, 95.0)])
    assert found.temp_c.likely == FREEZING_C
    assert 0.5 < found.ice_left < 1.0


@given(st.floats(100, 5000), st.floats(20, 100))
def test_more_hot_water_ends_warmer(water_g: float, water_c: float) -> None:
    less = onto_frozen(1000.0, 0.88, -18.0, [Part(water_g, 4.19, water_c)]).temp_c.likely
    more = onto_frozen(1000.0, 0.88, -18.0, [Part(1.5 * water_g, 4.19, water_c)]).temp_c.likely
    assert more >= less - 1e-9


@pytest.mark.parametrize(
    "arguments", [(0.5, 0.0), (0.88, -41.0), (0.88, 101.0), (0.88, -18.0, -0.05)]
)
def test_outside_is_refused(arguments) -> None:
    with pytest.raises(OutOfRange):
        fruit_heat(*arguments)
