"""Solubility, crystals and water activity against published figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc import water

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
    ("brix", "temp_c", "inverted", "crystals"),
    [
        (72, 20, 0.0, True),
        (72, 20, 0.4, False),
        # Half inverted syrup of 76 to 77 % stays clear in a room: common practice, no source.
        (75, 20, 0.5, False),
        (80, 20, 0.5, True),
        (70, 60, 0.0, False),
    ],
)
def test_invert_sugar_and_warmth_keep_syrup_clear(brix, temp_c, inverted, crystals):
    assert water.will_crystallise(brix, temp_c, inverted) is crystals


@given(st.floats(1, 85), st.floats(0, 100), st.floats(0, 0.9), st.floats(0.01, 0.1))
def test_inverting_sugar_never_brings_crystals(brix, temp_c, inverted, more):
    before = water.saturation(brix, temp_c, inverted)
    assert water.saturation(brix, temp_c, inverted + more) < before


# Norrish's equation, K 1.16 (glycerin) and 2.15 (fructose): Baeza et al. (2010).
@pytest.mark.parametrize(
    ("solute", "percent", "published"),
    [
        ("glycerin", 10, 0.9782),
        ("glycerin", 40, 0.8711),
        ("fructose", 30, 0.9554),
        ("fructose", 70, 0.7508),
    ],
)
def test_activity_of_one_solute(solute, percent, published):
    aw = water.activity(100 - percent, {solute: percent})
    assert aw.likely == pytest.approx(published, abs=0.0001)
    assert aw.high - aw.likely <= water.MEASURED_WITHIN + 1e-12


# Robinson & Stokes, Electrolyte Solutions: isopiestic, 25 degC, from memory.
@pytest.mark.parametrize(
    ("brix", "measured"), [(50.66, 0.9328), (60.64, 0.8917), (65.31, 0.8634), (67.25, 0.8493)]
)
def test_sucrose_as_measured(brix, measured):
    assert water.activity_sucrose(brix) == pytest.approx(measured, abs=0.001)


def test_thick_syrup_is_told_no_drier_than_it_is():
    """Norrish alone said 0.7657 at 75 Brix, which promises too much."""
    assert water.activity_sucrose(75) > 0.770


@given(st.floats(0, 74.9))
def test_sucrose_alone_is_sucrose(brix):
    assert water.activity(100 - brix, {"sucrose": brix}).likely == pytest.approx(
        water.activity_sucrose(brix)
    )


@given(
    st.dictionaries(st.sampled_from([*water.SOLUTES, "invert"]), st.floats(0, 35), max_size=8),
    st.sampled_from([*water.SOLUTES, "invert"]),
    st.floats(0.1, 10),
)
def test_anything_more_dissolved_lowers_it(solutes, name, grams):
    more = {**solutes, name: solutes.get(name, 0) + grams}
    before, after = water.activity(1000, solutes), water.activity(1000, more)
    assert after.likely < before.likely <= 1
    assert before.low <= before.likely <= before.high
    assert after.high < before.high + 1e-12


def test_invert_is_half_glucose_half_fructose():
    assert water.activity(50, {"invert": 50}) == water.activity(50, {"glucose": 25, "fructose": 25})


def test_inverted_syrup_holds_its_water_harder():
    assert water.activity(35, {"invert": 65}).high < water.activity_sucrose(65)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (water.sucrose_solubility, (-1,)),
        (water.sucrose_solubility, (101,)),
        (water.activity_sucrose, (-1,)),
        (water.activity_sucrose, (90.1,)),
        (water.activity_sucrose, (60, -0.1)),
        (water.activity_sucrose, (60, 130.1)),
        (water.saturation, (85.5, 20)),
        (water.saturation, (60, 20, 1.1)),
        (water.activity, (0, {"sucrose": 1})),
        (water.activity, (24, {"sucrose": 76})),
        (water.activity, (50, {"sucrose": -1})),
        (water.activity, (50, {"sucrose": float("nan")})),
    ],
)
def test_outside_is_refused(function, arguments):
    with pytest.raises(OutOfRange):
        function(*arguments)


def test_an_unknown_solute_is_refused_by_name():
    with pytest.raises(WrongUse, match="honey"):
        water.activity(50, {"honey": 50})
