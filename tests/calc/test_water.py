"""Solubility, crystals and water activity against published figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import water
from assistant.errors import OutOfRange

# Bubnik & Kadlec in Mathlouthi & Reiser (eds), Sucrose (1995), computed with the published fit.
SOLUBILITY = [(0, 64.45), (4, 64.80), (20, 66.72), (25, 67.47), (50, 72.12), (80, 78.68)]


@pytest.mark.parametrize(("temp_c", "published"), SOLUBILITY)
def test_solubility(temp_c, published):
    assert water.sucrose_solubility(temp_c) == pytest.approx(published, abs=0.006)


@given(st.floats(0, 100))
def test_a_saturated_solution_is_saturated(temp_c):
    full = water.sucrose_solubility(temp_c)
    assert water.saturation(full, temp_c) == pytest.approx(1)
    assert water.will_crystallise(full + 0.1, temp_c)
    assert not water.will_crystallise(full - 0.1, temp_c)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (water.sucrose_solubility, (-1,)),
        (water.sucrose_solubility, (101,)),
        (water.activity_sucrose, (-1,)),
        (water.activity_sucrose, (75.1,)),
        (water.saturation, (99.5, 20)),
        (water.saturation, (60, 20, 1.1)),
    ],
)
def test_outside_is_refused(function, arguments):
    with pytest.raises(OutOfRange):
        function(*arguments)
