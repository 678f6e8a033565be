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


def test_the_acid_advised_is_not_doubted_and_a_ph_is_asked_for(maker: Maker) -> None:
    """Twice the recipe's plan, since the pH that stops the batch has another one."""
    reply = maker.up_to("sharpen").reads("ph", 4.8, "pH")
    first = next(line for line in reply.lines if line.id == "acid_first").facts["first"]
    reply = maker.reads("citric_acid", round(first.value), "g")  # type: ignore[union-attr]
    assert maker.batch.held is None
    assert [line.id for line in reply.lines if line.rank != "read_back"] == ["measure_again"]
    assert maker.batch.stopped


def test_far_more_acid_than_such_a_batch_takes_is_asked(maker: Maker) -> None:
    maker.up_to("sharpen").reads("ph", 4.8, "pH")
    maker.reads("citric_acid", 400, "g")
    assert maker.batch.held is not None


def test_a_ph_that_frees_the_batch_leads_on(maker: Maker) -> None:
    maker.up_to("sharpen").reads("ph", 4.8, "pH")
    maker.reads("citric_acid", 70, "g")
    maker.reads("ph", 3.4, "pH")
    assert not maker.batch.stopped
    assert maker.stage == "ask_ascorbic"
    assert maker.ids() == ["read_back", "stage"]
