"""How much acid brings a batch down, in portions."""

import pytest
from batch_maker import Maker

from assistant.cook.souring import acid_advice


def test_less_goes_in_first_than_it_may_take(maker: Maker) -> None:
    (line,) = acid_advice(maker.up_to("ph").batch, 4.6)
    first, whole = (line.facts[name].value for name in ("first", "whole"))  # type: ignore[union-attr]
    assert 0 < first <= whole / 2


def test_the_higher_the_ph_the_more_it_takes(maker: Maker) -> None:
    batch = maker.up_to("ph").batch
    doses = [acid_advice(batch, ph)[0].facts["whole"].value for ph in (4.2, 4.6, 5.0)]  # type: ignore[union-attr]
    assert doses == sorted(doses)
    assert doses[0] < doses[-1]


@pytest.mark.parametrize("ph", [2.8, 3.4, 3.75])
def test_what_is_sour_enough_takes_none(maker: Maker, ph: float) -> None:
    assert acid_advice(maker.up_to("ph").batch, ph) == ()


def test_without_a_fruit_nothing_is_reckoned(maker: Maker) -> None:
    maker.reads("fruit", 2, "kg")
    assert acid_advice(maker.batch, 4.6) == ()
