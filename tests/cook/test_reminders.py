"""What a cook is reminded of."""

from datetime import timedelta

from batch_maker import Maker

from assistant.cook.reminders import reminders


def test_nothing_is_due_at_a_stage_without_a_clock(maker: Maker) -> None:
    maker.up_to("crush")
    assert list(reminders(maker.batch, maker.now + timedelta(days=2))) == []


def test_the_same_reminder_goes_by_the_same_key(maker: Maker) -> None:
    maker.up_to("steep")
    later = [maker.now + timedelta(minutes=minutes) for minutes in (21, 40)]
    (first,), (second,) = (list(reminders(maker.batch, at)) for at in later)
    assert first[1] == second[1]


def test_a_new_reading_makes_a_new_reminder(maker: Maker) -> None:
    maker.up_to("hold")
    ((_, before),) = reminders(maker.batch, maker.now + timedelta(seconds=60))
    maker.degrees(76, 60)
    ((_, after),) = reminders(maker.batch, maker.now + timedelta(seconds=60))
    assert before != after


def test_a_timer_comes_before_the_stage_and_rings_in_a_pause(maker: Maker) -> None:
    maker.up_to("steep").does("timer_set", seconds=60)
    late = maker.now + timedelta(hours=1)
    assert [line.id for line, _ in reminders(maker.batch, late)] == ["timer_due", "rest_over"]
    maker.does("pause")
    assert [line.id for line, _ in reminders(maker.batch, late)] == ["timer_due"]


def test_nothing_is_due_when_all_is_done(maker: Maker) -> None:
    maker.up_to("finished")
    assert list(reminders(maker.batch, maker.now + timedelta(days=2))) == []
