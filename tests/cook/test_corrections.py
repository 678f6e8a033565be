"""Putting right and taking back."""

import pytest
from batch_maker import Maker

from assistant.cook.holding import held
from assistant.cook.keeping import keeping


def test_a_correction_keeps_the_unit_that_was_said(maker: Maker) -> None:
    maker.reads("fruit", 5, "lb")
    maker.does("correct", value=6)
    assert maker.batch.start is not None
    assert (maker.batch.start.reading.value, maker.batch.start.reading.unit) == (6, "lb")


def test_a_correction_that_can_not_be_changes_nothing(maker: Maker) -> None:
    maker.reads("fruit", 2.4, "kg")
    maker.does("correct", value=0.001)
    assert maker.ids()[0] == "too_odd"
    assert maker.batch.start is not None
    assert maker.batch.start.base == 2400


def test_a_question_between_leaves_the_reading_to_be_put_right(maker: Maker) -> None:
    maker.reads("fruit", 2.4, "kg")
    maker.does("ask", topic="why")
    maker.does("correct", value=2.6)
    assert maker.batch.start is not None
    assert maker.batch.start.base == 2600


def test_a_stop_for_the_ph_survives_being_taken_back(maker: Maker) -> None:
    maker.up_to("ph").reads("ph", 5.2, "pH")
    assert maker.reply.stopped
    maker.does("undo")
    assert maker.reply.stopped
    maker.does("bottle", count=9, size_ml=500)
    assert maker.batch.bottled is None


def _corrects(maker: Maker, value: float, what: str | None = None, unit: str | None = None) -> None:
    maker.does("correct", value=value, what=what, unit=unit)


def test_the_fruit_is_put_right_later_and_the_sugar_follows(maker: Maker) -> None:
    maker.up_to("steep")
    before = maker.batch
    _corrects(maker, 2.0, "fruit", "kg")
    assert maker.batch.start is not None
    assert (maker.batch.start.base, maker.stage) == (2000, "steep")
    assert maker.ids() == ["read_back", "corrected_sugar"]
    assert maker.batch.taken[1:] == before.taken[1:]
    maker.does("undo")
    assert maker.batch.start == before.start


def test_without_a_unit_it_is_the_one_that_was_said(maker: Maker) -> None:
    maker.reads("fruit", 5, "lb")
    maker.done()
    _corrects(maker, 6, "fruit")
    assert maker.batch.start is not None
    assert maker.batch.start.reading.unit == "lb"


def test_the_juice_is_put_right_once_the_sugar_is_in(maker: Maker) -> None:
    maker.up_to("ph")
    _corrects(maker, 2.6, "juice", "l")
    last = maker.batch.last("juice")
    assert last is not None
    assert last.base == 2600
    assert maker.ids() == ["read_back", "corrected_syrup"]


def test_what_was_taken_as_planned_is_put_right(maker: Maker) -> None:
    maker.up_to("sharpen")
    _corrects(maker, 2.9, "sugar", "kg")
    added = maker.batch.addition("main_sugar")
    assert added is not None
    assert (added.amount, added.measured) == (2900, True)
    assert maker.batch.total("crushing_sugar") == 600


def test_a_correction_far_off_the_plan_waits_for_a_yes_too(maker: Maker) -> None:
    maker.up_to("sharpen")
    before = maker.batch.added
    _corrects(maker, 4.9, "sugar", "kg")
    assert (maker.ids(), maker.batch.added) == (["ask_off_plan"], before)
    maker.does("yes")
    assert maker.batch.total("main_sugar") == 4900


def test_what_no_syrup_can_be_is_not_taken(maker: Maker) -> None:
    maker.up_to("sharpen")
    before = maker.batch.added
    _corrects(maker, 90, "sugar", "kg")
    assert (maker.ids(), maker.batch.added) == (["beyond_reckoning"], before)


def test_no_seven_puts_the_bottles_right(maker: Maker) -> None:
    maker.up_to("bottle").does("bottle", count=9, size_ml=500)
    _corrects(maker, 8)
    assert maker.batch.bottled is not None
    assert (maker.batch.bottled.count, maker.ids()) == (8, ["bottles_recounted"])
    maker.does("used", count=3)
    _corrects(maker, 7, "bottles", "count")
    assert (maker.batch.bottled.count, maker.batch.in_store) == (7, 4)
    _corrects(maker, 2, "bottles", "count")
    assert maker.ids() == ["bottles_gone_already"]


def test_a_count_put_right_that_cannot_be_is_asked(maker: Maker) -> None:
    maker.up_to("bottle").does("bottle", count=9, size_ml=500)
    _corrects(maker, 90)
    assert maker.ids() == ["ask_bottles_many"]


def test_what_filled_bottles_are_dated_by_stays(maker: Maker) -> None:
    maker.up_to("finished")
    _corrects(maker, 2.0, "fruit", "kg")
    assert maker.ids() == ["correction_too_late"]
    assert maker.batch.start is not None
    assert maker.batch.start.base == 2400


@pytest.mark.parametrize("stage", ["strain", "ph", "finished"])
def test_a_temperature_of_a_while_ago_is_put_right_and_takes_the_hold_back(stage: str) -> None:
    maker = Maker().up_to(stage)
    days = keeping(maker.batch).days or 0
    assert held(maker.batch).complete
    _corrects(maker, 70, "temperature", "degC")
    assert maker.ids() == ["temperature_put_right", "hold_taken_back"]
    assert not held(maker.batch).complete
    assert (keeping(maker.batch).days or 0) <= days


def test_no_hold_is_completed_by_putting_a_temperature_right_afterwards(maker: Maker) -> None:
    maker.up_to("hold")
    maker.degrees(77, 45)
    maker.degrees(70, 45)
    maker.done()
    maker.done()
    maker.done(1300)
    _corrects(maker, 77, "temperature", "degC")
    _corrects(maker, 76.5, "temperature", "degC")
    assert not held(maker.batch).complete


def test_the_reading_nearest_to_the_right_one_is_meant(maker: Maker) -> None:
    maker.up_to("ph")
    _corrects(maker, 42, "temperature", "degC")
    assert maker.ids() == ["temperature_put_right"]
    assert held(maker.batch).complete
    last = maker.batch.last("temperature")
    assert last is not None
    assert last.base == 42


def test_another_thing_put_right_passes_over_what_waits_for_a_yes(maker: Maker) -> None:
    maker.up_to("dissolve")
    maker.does("choose", option="fruit", value="raspberry")
    _corrects(maker, 2.6, "juice", "l")
    assert (maker.batch.held, maker.batch.fruit) == (None, "blackcurrant")
    assert maker.ids()[0] == "not_counted"


def test_a_number_that_no_syrup_can_follow_from_is_not_taken(maker: Maker) -> None:
    maker.up_to("ph")
    before = maker.batch.added
    for _ in range(3):
        maker.surely("reading", what="sugar", value=5, unit="kg")
    assert maker.ids()[0] == "beyond_reckoning"
    assert maker.batch.total("main_sugar") < 20_000
    assert maker.batch.added[: len(before)] == before


def test_a_slip_put_right_by_another_slip_is_asked_about(maker: Maker) -> None:
    """Neither can be reckoned with; the cook's last word is the one in question."""
    maker.up_to("crush").reads("sugar", 100, "kg")
    maker.does("correct", value=41, heard="no, 41")
    assert maker.ids() == ["ask_off_plan"]
    assert maker.batch.held is not None
    assert maker.batch.held.event.value == 41  # type: ignore[union-attr]
