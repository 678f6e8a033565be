"""Juice, cloth and steam hold together all that went into the mash."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.fruits import all_fruits
from assistant.calc.mash import PULP_SHARE, WASHED_OUT, Syrup, rinse, strained_juice
from assistant.calc.spread import Spread


@st.composite
def mashes(draw):
    fruit_g = draw(st.floats(50, 20_000))
    return {
        "fruit_g": fruit_g,
        "fruit_brix": draw(st.floats(4, 15)),
        "fruit_water_share": draw(st.floats(0.75, 0.84)),
        "sugar_g": fruit_g * draw(st.floats(0, 1.5)),
        "water_g": fruit_g * draw(st.floats(0, 2)),
        "pulp_share": draw(st.floats(0.25, 0.6)),
    }


FRUIT = mashes()


@given(FRUIT)
def test_mass_and_sugar_are_kept(mash):
    juice = strained_juice(**mash)
    put_in = mash["fruit_g"] + mash["sugar_g"] + mash["water_g"]
    assert juice.mass_g + juice.pulp_g == pytest.approx(put_in)
    water = mash["fruit_g"] * mash["fruit_water_share"]
    solids = water * mash["fruit_brix"] / (100 - mash["fruit_brix"]) + mash["sugar_g"]
    assert juice.sugar_g + juice.held.sugar_g == pytest.approx(solids)
    assert juice.pulp_g == pytest.approx(mash["pulp_share"] * mash["fruit_g"])
    assert juice.held.brix == juice.brix


@given(FRUIT, st.floats(0, 300))
def test_steam_takes_water_only(mash, steam_g):
    assume(steam_g < mash["water_g"])
    dry, wet = strained_juice(**mash, evaporated_g=steam_g), strained_juice(**mash)
    assert dry.mass_g == pytest.approx(wet.mass_g - steam_g)
    assert dry.sugar_g + dry.held.sugar_g == pytest.approx(wet.sugar_g + wet.held.sugar_g)


@given(FRUIT, st.floats(1.0, 2.0), st.floats(0, 1))
def test_a_rinse_reaches_the_volume_and_loses_nothing(mash, times, share):
    juice = strained_juice(**mash)
    target = juice.volume_ml * times
    made_up = rinse(juice, target, share)
    assert made_up.volume_ml == pytest.approx(target, rel=1e-6)
    assert made_up.mass_g == pytest.approx(juice.mass_g + made_up.poured_g)
    assert made_up.pulp_g == pytest.approx(juice.pulp_g)
    before = juice.sugar_g + juice.held.sugar_g
    assert made_up.sugar_g + made_up.held.sugar_g == pytest.approx(before)
    assert made_up.brix <= juice.brix + 1e-9
    assert 0 <= made_up.held.brix <= juice.brix + 1e-9


@given(FRUIT, st.floats(1.0, 2.0))
def test_the_spread_holds_every_share(mash, times):
    juice = strained_juice(**mash)
    made_up = rinse(juice, juice.volume_ml * times)
    for share in (WASHED_OUT.low, 0.45, WASHED_OUT.likely, WASHED_OUT.high):
        one = rinse(juice, juice.volume_ml * times, share)
        assert made_up.brix_spread.low - 1e-9 <= one.brix <= made_up.brix_spread.high + 1e-9
        assert made_up.poured_spread.low - 1e-6 <= one.poured_g <= made_up.poured_spread.high + 1e-6


@given(st.floats(100, 5000), st.floats(0, 60), st.floats(0, 5000), st.floats(0, 0.5))
def test_sweetening_keeps_the_sugar(mass_g, brix, sugar_g, share):
    syrup = Syrup(mass_g, brix)
    steam = share * syrup.water_g
    after = syrup.sweetened(sugar_g, steam)
    assert after.mass_g == pytest.approx(mass_g + sugar_g - steam)
    assert after.sugar_g == pytest.approx(syrup.sugar_g + sugar_g)


def test_a_small_strawberry_batch():
    """675 g crushed with 200 g sugar and half a litre of hot water, made up to a litre.

    Common practice, no source. Juice Brix 8.0: 19 CFR 151.91; water 90.95 %: USDA FoodData Central.
    """
    juice = strained_juice(675, 8.0, 0.9095, 200, 500, PULP_SHARE.likely)
    assert juice.volume_ml == pytest.approx(1000, rel=0.15)
    made_up = rinse(juice, max(1000, juice.volume_ml))
    syrup = made_up.sweetened(1100)
    assert syrup.volume_ml == pytest.approx(1500, rel=0.15)
    everything = syrup.mass_g + made_up.pulp_g
    assert everything == pytest.approx(675 + 200 + 500 + made_up.poured_g + 1100)


@pytest.mark.parametrize("fruit", all_fruits().values(), ids=list(all_fruits()))
def test_every_fruit_of_the_table_can_be_crushed(fruit):
    """At both ends of its Brix: water and Brix stand in different tables and may overlap."""
    for brix in (fruit.brix().low, fruit.brix().high):
        juice = strained_juice(1000, brix, (fruit.water or 85) / 100, 200, 500)
        assert juice.mass_g + juice.pulp_g == pytest.approx(1700)
        assert juice.insoluble_g >= 0


@pytest.mark.parametrize(
    "wrong",
    [
        {"fruit_g": 0},
        {"fruit_g": float("nan")},
        {"fruit_water_share": 0.995},
        {"fruit_brix": 90},
        {"pulp_share": 0.01},
        {"pulp_share": 3.0},
        {"sugar_g": -1},
        {"water_g": -1},
        {"evaporated_g": 5000},
    ],
)
def test_a_mash_that_cannot_be_is_refused(wrong):
    right = {"fruit_g": 1000, "fruit_brix": 10, "fruit_water_share": 0.85, "pulp_share": 0.4}
    with pytest.raises(OutOfRange):
        strained_juice(**{**right, **wrong})


@pytest.mark.parametrize(
    ("target_ml", "share"), [(500, 0.5), (2000, 1.1), (2000, Spread(-0.1, 0.5, 0.9))]
)
def test_a_rinse_that_cannot_be_is_refused(target_ml, share):
    juice = strained_juice(1000, 10, 0.85, water_g=500, pulp_share=0.4)
    with pytest.raises(OutOfRange):
        rinse(juice, target_ml, share)
