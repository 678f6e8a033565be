"""Putting right and taking back."""

from batch_maker import Maker


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


def test_a_taken_back_stop_is_a_stop_no_more(maker: Maker) -> None:
    maker.up_to("ph").reads("ph", 5.2, "pH")
    assert maker.reply.stopped
    maker.does("undo")
    assert not maker.reply.stopped
    assert maker.batch.stopped_by is None
