"""The units at the edge, against pint's own list and exact definitions."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base import units
from assistant.base.units import BASE_UNIT, UNITS, convert, dimension, to_base

PINT = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
SAME = {"fl_oz": "fluid_ounce", "h": "hour", "degC": "degC", "degF": "degF"}
KITCHEN = ("tsp", "tbsp", "cup")


@pytest.mark.parametrize(
    "unit", [u for u in UNITS if u not in (*KITCHEN, "g/l", "pH", "Brix", "count")]
)
@pytest.mark.parametrize("value", [-3.0, 0.0, 1.0, 162.0])
def test_units_agree_with_the_librarys_own_definitions(unit: str, value: float) -> None:
    expected = PINT.Quantity(value, SAME.get(unit, unit)).to(BASE_UNIT[dimension(unit)]).magnitude
    assert to_base(value, unit) == pytest.approx(expected, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "unit", "base"),
    [
        # international avoirdupois pound, exact; NIST Cooking Measurement Equivalencies
        (1, "lb", 453.59237), (1, "oz", 28.349523125), (1, "tsp", 5), (1, "tbsp", 15),
        (1, "cup", 240), (212, "degF", 100), (32, "degF", 0), (1, "pint", 473.176473),
        (3, "g/l", 3), (3.2, "pH", 3.2),
    ],
)  # fmt: skip
def test_exact_values(value: float, unit: str, base: float) -> None:
    assert to_base(value, unit) == pytest.approx(base, abs=1e-9)


@given(st.sampled_from(UNITS), st.sampled_from(UNITS), st.floats(-1e4, 1e4))
def test_there_and_back_is_the_same_and_other_dimensions_are_refused(
    unit: str, other: str, value: float
) -> None:
    if dimension(unit) != dimension(other):
        with pytest.raises(ValueError, match="is a"):
            convert(value, unit, other)
        return
    assert convert(convert(value, unit, other), other, unit) == pytest.approx(value, abs=1e-6)


MEASURED = [u for u in UNITS if dimension(u) in ("mass", "volume", "time", "temperature")]


@given(st.sampled_from(MEASURED), st.floats(-1e4, 1e4))
def test_what_is_reckoned_without_the_library_is_the_same_to_the_last_bit(
    unit: str, value: float
) -> None:
    base = BASE_UNIT[dimension(unit)]
    if unit != base:
        assert convert(value, unit, base) == units._converted(value, unit, base)
