"""Refractive index, temperature and what hides from a refractometer."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc import refraction

BRIX = st.floats(0, 85)

# OIV-MA-AS2-02, table II: mass % sucrose and refractive index at 20 degC.
OIV = [(10.0, 1.34782), (15.0, 1.35568), (25.0, 1.37233), (30.0, 1.38115)]
# CRC Handbook, concentrative properties of sucrose at 20 degC.
CRC = [(0, 1.3330), (20, 1.3639), (40, 1.3999), (50, 1.4201), (60, 1.4419), (66, 1.4558)]


@pytest.mark.parametrize(("brix", "index"), OIV)
def test_index_of_the_must_table(brix, index):
    assert refraction.index_from_brix(brix) == pytest.approx(index, abs=0.00001)
    assert refraction.brix_from_index(index) == pytest.approx(brix, abs=0.006)


@pytest.mark.parametrize(("brix", "index"), CRC)
def test_index_of_the_handbook(brix, index):
    assert refraction.index_from_brix(brix) == pytest.approx(index, abs=0.0001)


@given(BRIX)
def test_index_turns_round(brix):
    assert refraction.brix_from_index(refraction.index_from_brix(brix)) == pytest.approx(
        brix, abs=1e-5
    )


@given(st.floats(0, 84), st.floats(0.01, 1))
def test_more_sugar_bends_more(brix, more):
    assert refraction.index_from_brix(brix + more) > refraction.index_from_brix(brix)


# OIV-MA-AS2-02, table I: reading, temperature, what to add.
@pytest.mark.parametrize(
    ("reading", "temp_c", "add"),
    [(10, 10, -0.59), (30, 12, -0.56), (50, 15, -0.38), (75, 16, -0.30), (60, 17, -0.23)],
)
def test_the_cold_side_of_the_temperature_table(reading, temp_c, add):
    correction = refraction.temperature_correction(reading, temp_c)
    assert correction.likely == pytest.approx(add, abs=0.006)
    assert correction.about(add)


@given(st.floats(0, 75), st.floats(10, 30))
def test_a_cold_drop_reads_high_and_a_warm_one_low(reading, temp_c):
    correction = refraction.temperature_correction(reading, temp_c)
    assert correction.likely * (temp_c - 20) >= 0
    assert correction.low <= correction.likely <= correction.high
    assert refraction.at_20(reading, temp_c).likely == pytest.approx(reading + correction.likely)


def test_at_20_nothing_is_corrected():
    assert refraction.temperature_correction(60, 20).likely == 0
    assert refraction.temperature_correction(60, 20).high == 0


@pytest.mark.parametrize(("citric", "hidden"), [(0, 0), (1, 0.20), (3, 0.58), (10, 1.91)])
def test_citric_acid_hides(citric, hidden):
    """Acidity correction table of the juice trade, after Stevens & Baier (1939)."""
    assert refraction.acid_correction(citric) == pytest.approx(hidden, abs=0.01)


@given(BRIX, st.floats(0, 38), st.floats(0, 20), st.floats(0, 75))
def test_solids_are_never_less_than_the_reading(reading, citric, glycerin, invert):
    assert refraction.solids(reading, citric, glycerin, invert) >= reading
    assert refraction.solids(reading) == reading


def test_cautions_are_said_for_what_is_there():
    assert refraction.cautions() == ()
    said = refraction.cautions(citric_percent=1.5, glycerin_percent=5, invert_percent=20)
    assert len(said) == 3
    for sentence, brix in zip(said, ("0.3 Brix", "4.0 Brix", "0.4 Brix"), strict=True):
        assert brix in sentence


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (refraction.index_from_brix, (-0.1,)),
        (refraction.index_from_brix, (85.1,)),
        (refraction.brix_from_index, (1.3328,)),
        (refraction.brix_from_index, (1.505,)),
        (refraction.brix_from_index, (float("nan"),)),
        (refraction.temperature_correction, (60, 9.9)),
        (refraction.temperature_correction, (60, 30.1)),
        (refraction.temperature_correction, (76, 20)),
        (refraction.acid_correction, (39,)),
        (refraction.solids, (60, 0, 21)),
        (refraction.solids, (60, 0, 0, 76)),
        (refraction.solids, (90,)),
    ],
)
def test_outside_the_tables_is_refused(function, arguments):
    with pytest.raises(OutOfRange):
        function(*arguments)
