import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.scale import (
    FILL_SHARE,
    bottles_from,
    fruit_for_bottles,
    mash_ml,
    pan_fit,
    pan_ml,
    scaled,
)
from assistant.calc.spread import Spread

BATCH = {"fruit_g": 1000.0, "sugar_g": 800.0, "water_g": 500.0}
heats = st.sampled_from(list(FILL_SHARE))


def test_scaled_by_hand():
    assert scaled(BATCH, 0.4) == pytest.approx({"fruit_g": 400, "sugar_g": 320, "water_g": 200})


@given(st.floats(0.01, 50.0))
def test_proportions_stay(factor):
    bigger = scaled(BATCH, factor)
    assert bigger["sugar_g"] / bigger["fruit_g"] == pytest.approx(0.8)


@given(st.integers(1, 100), st.floats(100.0, 1000.0), st.floats(500.0, 2500.0))
def test_enough_fruit_fills_the_bottles(bottles, bottle_ml, yield_ml):
    need = fruit_for_bottles(bottles, bottle_ml, yield_ml, lost_share=0.05)
    made_ml = need.likely / 1000 * yield_ml * 0.95
    assert bottles_from(made_ml, bottle_ml).full == bottles


def test_a_poor_year_needs_more_fruit():
    need = fruit_for_bottles(6, 500, Spread(1200, 1500, 1800))
    assert need.low < need.likely < need.high
    assert need.high / need.low == pytest.approx(1800 / 1200)


@given(st.floats(0.0, 50_000.0), st.floats(50.0, 2000.0))
def test_bottles_and_the_rest_are_the_whole(volume_ml, bottle_ml):
    filled = bottles_from(volume_ml, bottle_ml)
    assert filled.full * bottle_ml + filled.left_ml == pytest.approx(volume_ml, abs=1e-3)
    assert filled.left_ml < bottle_ml


def test_pan_by_hand():
    assert pan_ml(20, 10) == pytest.approx(3141.6, abs=0.1)


def test_mash_by_hand():
    # 30 Brix at 80 C: 1.09621 g/ml, ICUMSA SPS-4 (1994); 1000 g fruit of 10 Brix and 285.7 g sugar
    assert mash_ml(1000, 0, 285.714) == pytest.approx(1285.714 / 1.09621, rel=1e-4)


@pytest.mark.parametrize("heat", FILL_SHARE)
def test_just_inside_and_just_past_the_head_room(heat):
    most = 6000 * FILL_SHARE[heat]
    assert pan_fit(most - 1, 6000, heat).fits
    assert not pan_fit(most + 1, 6000, heat).fits


@given(st.floats(10.0, 50_000.0), st.floats(500.0, 20_000.0), heats)
def test_the_share_fits_and_the_needed_pan_holds_it(volume_ml, holds_ml, heat):
    fit = pan_fit(volume_ml, holds_ml, heat)
    assert volume_ml * fit.share <= fit.usable_ml * (1 + 1e-9)
    assert pan_fit(volume_ml, fit.needed_pan_ml * (1 + 1e-9), heat).fits
    assert fit.fits == (fit.share == 1.0)


def test_hotter_needs_more_room():
    shares = [FILL_SHARE[heat] for heat in ("cold", "heated", "boiling", "foaming")]
    assert shares == sorted(shares, reverse=True)


@pytest.mark.parametrize(
    "call",
    [
        lambda: scaled(BATCH, 0.0),
        lambda: fruit_for_bottles(-1, 500, 1500),
        lambda: fruit_for_bottles(6, 500, 0),
        lambda: fruit_for_bottles(6, 500, 1500, lost_share=0.6),
        lambda: bottles_from(-1, 500),
        lambda: bottles_from(1000, 0),
        lambda: pan_ml(4, 10),
        lambda: pan_ml(20, 101),
        lambda: mash_ml(-1, 0, 0),
        lambda: mash_ml(0, 0, 0),
        lambda: mash_ml(10, 0, 1000),
        lambda: pan_fit(0, 6000, "boiling"),
        lambda: pan_fit(100, 0, "boiling"),
    ],
)
def test_outside_is_refused(call):
    with pytest.raises(OutOfRange):
        call()
