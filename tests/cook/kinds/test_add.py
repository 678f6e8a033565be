"""Adding: what was planned goes in unless the cook says otherwise."""

import pytest
from batch_maker import Maker


def test_done_takes_the_plan(maker: Maker) -> None:
    maker.up_to("water")
    added = maker.batch.addition("crushing_sugar")
    assert added is not None
    # The recipe's own ratio: a quarter of 2.4 kg of fruit
    assert (added.amount, added.unit, added.measured) == (pytest.approx(600), "g", False)


def test_a_number_counts_as_said(maker: Maker) -> None:
    maker.up_to("crush").reads("sugar", 0.5, "kg")
    added = maker.batch.addition("crushing_sugar")
    assert added is not None
    assert (added.amount, added.measured, maker.stage) == (500, True, "water")


def test_sorbate_that_was_dosed_when_asked_goes_in_once(maker: Maker) -> None:
    maker.up_to("ask_sorbate").reads("sorbate", 0.3, "g/l")
    once = maker.batch.total("sorbate")
    maker.does("yes")
    assert maker.stage == "ph"
    assert maker.batch.total("sorbate") == once


def test_sugar_into_hot_juice_is_told_off(maker: Maker) -> None:
    maker.up_to("dissolve").degrees(60)
    assert maker.ids() == ["read_back", "too_warm_for_sugar"]
    maker.degrees(44)
    assert maker.ids() == ["read_back"]


def test_it_awaits_what_goes_in_and_nothing_where_nobody_can_say_it(maker: Maker) -> None:
    maker.up_to("crush")
    stage = maker.batch.stage
    assert stage is not None
    assert [a.what for a in stage.awaits(maker.batch, maker.now)] == ["sugar"]
    gum = stage.model_copy(update={"amount": "gum_arabic"})
    assert gum.awaits(maker.batch, maker.now) == ()
