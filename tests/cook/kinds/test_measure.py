"""Measuring: within the stage's window, and what going without costs."""

from datetime import timedelta

import pytest
from batch_maker import Maker
from pydantic import ValidationError

from assistant.cook.kinds import Measure


def _measure(reading: str = "juice", low: float = 100, high: float = 200) -> Measure:
    body = {"id": "m", "kind": "measure", "say": "", "why": ""}
    return Measure.model_validate({**body, "reading": reading, "low": low, "high": high})


def test_a_window_goes_up() -> None:
    with pytest.raises(ValidationError, match="low must be below high"):
        _measure(low=200, high=200)


def test_it_awaits_its_reading_within_its_own_window(maker: Maker) -> None:
    (found,) = _measure().awaits(maker.batch, maker.now)
    assert (found.what, found.low, found.high) == ("juice", 100, 200)


def test_a_ph_is_asked_back_whatever_was_read_before(maker: Maker) -> None:
    maker.reads("ph", 3.3, "pH")
    (found,) = _measure("ph", 2, 7).awaits(maker.batch, maker.now + timedelta(seconds=5))
    assert found.confirm
    assert found.last is None


def test_what_all_follows_from_is_not_gone_without(maker: Maker) -> None:
    for _ in range(3):
        maker.done()
        assert (maker.stage, maker.ids()[0]) == ("weigh", "stage")


def test_other_readings_are_gone_without_at_the_second_word(maker: Maker) -> None:
    maker.up_to("juice").done()
    assert maker.ids() == ["without_reading"]
    maker.done()
    assert maker.stage == "cool"
    assert maker.batch.skipped == {"juice"}


def test_the_ph_that_was_read_is_shown_with_the_aim(maker: Maker) -> None:
    maker.up_to("ph")
    assert maker.batch.stage is not None
    before = maker.batch.stage.glance(maker.batch)
    maker.reads("ph", 4.4, "pH")
    after = maker.batch.stage.glance(maker.batch)
    assert before is not None
    assert after is not None
    assert (before.label.id, before.text) == ("glance.ph_wanted", "2.6–3.6")
    assert after.amount is not None
    assert after.amount.value == 4.4
