"""How long a batch takes, against sums done by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.cost import HOB_SHARE
from assistant.planning.duration import duration, heating_s
from assistant.planning.pan import Contents
from assistant.planning.trial import trial_batch
from assistant.recipebook.files import load_recipe

BERRY = load_recipe("berry-syrup")


def _water(grams: float, target_c: float = 80.0) -> Contents:
    return Contents(0.0, grams, 0.0, 0.0, 1.0, target_c, boils=False, water_c=20.0)


def test_warming_water_by_hand() -> None:
    # 2 kg of water at 4.18 J/(g K) (CRC Handbook, properties of water) from 20 to 80 degC take
    # 501.6 kJ; a 1500 W plate gets 0.74 of that in (US Department of Energy cooking tests).
    by_hand = 2000 * 4.18 * 60 / (1500 * HOB_SHARE["electric"])
    found = heating_s(_water(2000), 1500, "electric")
    assert found.likely == pytest.approx(by_hand, rel=0.01)
    # A third more or less power, the allowance of this project.
    assert found.low == pytest.approx(by_hand * 3 / 4, rel=0.01)
    assert found.high == pytest.approx(by_hand * 3 / 2, rel=0.01)


@given(st.floats(200, 20_000), st.floats(200, 3000))
def test_twice_the_mash_takes_twice_as_long(grams: float, power: float) -> None:
    one, two = (heating_s(_water(g), power, "gas").likely for g in (grams, 2 * grams))
    assert two == pytest.approx(2 * one)


def test_what_is_hot_already_needs_no_time() -> None:
    hot = Contents(0.0, 1000, 0.0, 0.0, 1.0, 70.0, boils=False, water_c=80.0)
    assert heating_s(hot, 1500, "gas").likely == 0.0


def test_the_time_of_a_berry_batch() -> None:
    found = duration(trial_batch(BERRY, 2000, "raspberry"))
    told = {span.what: span.seconds for span in found.spans}
    assert set(told) == {"heating", "hold", "rest", "cooling"}
    assert (told["hold"].likely, told["rest"].likely) == (90, 1200)
    # Newton's law of cooling: ln(55/25) of the time constant of an hour.
    assert told["cooling"].likely == pytest.approx(0.7885 * 3600, rel=1e-3)
    assert found.total.likely == pytest.approx(sum(s.likely for s in told.values()))


def test_boiling_down_is_said_to_be_left_out() -> None:
    assert duration(trial_batch(load_recipe("pomegranate-reduction"), 2000)).untold == ("reduce",)


@pytest.mark.parametrize("power", [0, -1500, float("nan"), 1e6])
def test_rings_that_cannot_be(power: float) -> None:
    with pytest.raises(OutOfRange):
        duration(trial_batch(BERRY, 2000), power)
