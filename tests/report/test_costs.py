"""What a batch cost."""

import pytest
from batch_maker import Maker
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.report.costs import cost_lines, priced, used


def _whole() -> Maker:
    maker = Maker().up_to("store")
    maker.done()
    return maker


WHOLE = _whole()


def test_a_cost_by_hand() -> None:
    """2.4 kg of fruit at 4.50 are 10.80, nine bottles at 0.60 are 5.40: 16.20, 1.80 a bottle."""
    found = priced(WHOLE.batch, {"fruit": 4.5, "bottle": 0.6})
    assert found.cost.total == pytest.approx(16.20)
    assert found.cost.per_bottle == pytest.approx(1.80)
    assert found.unpriced == ("sugar", "citric_acid")
    assert any("without a price: sugar, citric acid" in line for line in cost_lines(found))


def test_both_sugars_have_one_price_and_water_has_none() -> None:
    parts = used(WHOLE.batch)
    # A quarter of 2.4 kg of fruit is crushed with it; the rest is the main sugar
    assert parts["sugar"] > 600
    assert "main_sugar" not in parts
    assert "water" not in priced(WHOLE.batch, {}).unpriced


@given(st.floats(0, 1000), st.floats(0, 10))
def test_prices_grow_the_cost_in_step(price: float, factor: float) -> None:
    one = priced(WHOLE.batch, {"fruit": price}).cost.total
    assert priced(WHOLE.batch, {"fruit": price * factor}).cost.total == pytest.approx(one * factor)


def test_prices_that_cannot_be() -> None:
    with pytest.raises(WrongUse, match="Prices go to: fruit"):
        priced(WHOLE.batch, {"time": 3.0})
    with pytest.raises(OutOfRange):
        priced(WHOLE.batch, {"fruit": -1.0})
