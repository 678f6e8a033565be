import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.serve import (
    dilute,
    dilute_by_parts,
    dilute_to_acid,
    energy,
    glasses_per_bottle,
)

syrups = st.floats(30.0, 80.0)


def test_a_glass_by_hand():
    # densities at 20 C, ICUMSA SPS-4 (1994): 10 % 1.03812, 60 % 1.28661, water 0.99820 g/ml
    glass = dilute(60, 10, 200, acid_g_l=20)
    syrup_g = 200 * 1.03812 * 10 / 60
    assert glass.sugar_g == pytest.approx(20.762, abs=0.002)
    assert glass.syrup_ml == pytest.approx(syrup_g / 1.28661, abs=0.01)
    assert glass.water_ml == pytest.approx((200 * 1.03812 - syrup_g) / 0.99820, abs=0.01)
    assert glass.acid_g == pytest.approx(0.02 * glass.syrup_ml)


@given(syrups, st.floats(0.5, 29.0), st.floats(50.0, 2000.0))
def test_mass_is_kept(brix, target, glass_ml):
    glass = dilute(brix, target, glass_ml)
    assert glass.sugar_g == pytest.approx(glass.syrup_g * brix / 100)
    assert 0 < glass.syrup_ml < glass_ml
    # sugar solutions shrink by less than one per cent of the whole on mixing
    assert glass_ml <= (glass.syrup_ml + glass.water_ml) * 1.0001 <= glass_ml * 1.01


@given(syrups, st.floats(0.5, 20.0), st.floats(0.5, 8.0))
def test_sweeter_takes_more_syrup(brix, target, more):
    assert dilute(brix, target + more, 200).syrup_ml > dilute(brix, target, 200).syrup_ml


@given(syrups, st.floats(1.0, 20.0))
def test_by_parts_gives_those_parts(brix, parts):
    assert dilute_by_parts(brix, parts, 200).water_parts == pytest.approx(parts, rel=1e-6)


def test_no_water_is_the_syrup_itself():
    assert dilute_by_parts(60, 0, 100).syrup_ml == pytest.approx(100)


@given(syrups, st.floats(5.0, 60.0), st.floats(0.02, 0.9))
def test_to_acid_gives_that_acid(brix, acid, share):
    glass = dilute_to_acid(brix, acid, acid * share, 250)
    assert glass.acid_g_l == pytest.approx(acid * share, rel=1e-6)


@given(st.floats(100.0, 1000.0))
def test_glasses_use_the_bottle_up(bottle_ml):
    glass = dilute(60, 10, 200)
    assert glasses_per_bottle(bottle_ml, glass) * glass.syrup_ml == pytest.approx(bottle_ml)


def test_energy_by_the_label_factors():
    # Regulation (EU) No 1169/2011, Annex XIV: 17/4, 13/3, 10/2.4 per gram
    found = energy(20, acid_g=1, glycerin_g=2)
    assert found.kj == pytest.approx(20 * 17 + 13 + 20)
    assert found.kcal == pytest.approx(80 + 3 + 4.8)


@pytest.mark.parametrize(
    "call",
    [
        lambda: dilute(60, 61, 200),
        lambda: dilute(86, 10, 200),
        lambda: dilute(60, 0, 200),
        lambda: dilute(60, 10, 0),
        lambda: dilute(60, 10, 200, acid_g_l=-1),
        lambda: dilute(60, math.nan, 200),
        lambda: dilute_by_parts(60, -1, 200),
        lambda: dilute_by_parts(60, 51, 200),
        lambda: dilute_to_acid(60, 20, 21, 200),
        lambda: dilute_to_acid(60, 0, 0, 200),
        lambda: energy(-1),
        lambda: glasses_per_bottle(-1, dilute(60, 10, 200)),
    ],
)
def test_outside_is_refused(call):
    with pytest.raises(OutOfRange):
        call()
