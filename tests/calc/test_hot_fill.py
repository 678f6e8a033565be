"""A bottle filled hot: heat balance and Newton's law, with wide spreads."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.hot_fill import hot_filled

BOTTLE = hot_filled(500, 320, 62, 88)


def test_cold_glass_takes_its_share() -> None:
    """By hand: 650 g x 2.97 at 88 and 320 g x 0.84 at 20 degC meet at 79.6."""
    assert BOTTLE.mixed_c.likely == pytest.approx(79.6, abs=0.5)


def test_a_warm_bottle_keeps_the_syrup_hotter() -> None:
    assert hot_filled(500, 320, 62, 88, glass_c=70).mixed_c.low > BOTTLE.mixed_c.high


@given(st.floats(0, 3600), st.floats(1, 3600))
def test_it_only_cools(seconds: float, more: float) -> None:
    before, after = BOTTLE.coldest(seconds), BOTTLE.coldest(seconds + more)
    assert after.low < before.low
    assert after.high < before.high
    assert before.low <= before.likely <= before.high


@given(st.floats(30, 78))
def test_it_is_at_the_temperature_when_it_says(temp_c: float) -> None:
    stays = BOTTLE.stays_above(temp_c)
    if stays.likely > 0:
        assert BOTTLE.coldest(stays.likely).likely == pytest.approx(temp_c, abs=1e-6)
    if stays.low > 0:
        assert BOTTLE.coldest(stays.low).low == pytest.approx(temp_c, abs=1e-6)


def test_the_low_end_promises_nothing_in_a_draught() -> None:
    assert BOTTLE.stays_above(75).low == 0.0


@pytest.mark.parametrize(
    "arguments",
    [
        (49, 320, 62, 88),
        (500, 19, 62, 88),
        (500, 320, 86, 88),
        (500, 320, 62, 101),
        (500, 320, 62, 88, -1),
        (500, 320, 62, 88, 20, 41),
    ],
)
def test_outside_is_refused(arguments) -> None:
    with pytest.raises(OutOfRange):
        hot_filled(*arguments)
    with pytest.raises(OutOfRange):
        BOTTLE.stays_above(20.0)
