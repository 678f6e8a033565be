"""Timers by name."""

from datetime import timedelta

from batch_maker import Maker

from assistant.cook.timers import run_out


def test_a_timer_of_the_same_name_starts_afresh(maker: Maker) -> None:
    maker.does("timer_set", seconds=60, name="jars")
    maker.does("timer_set", seconds=600, name="jars")
    assert [t.seconds for t in maker.batch.timers] == [600]


def test_stopped_is_the_named_one_or_all(maker: Maker) -> None:
    for name in ("jars", "lids", "cloth"):
        maker.does("timer_set", seconds=60, name=name)
    maker.does("timer_stop", name="lids")
    assert [t.name for t in maker.batch.timers] == ["jars", "cloth"]
    maker.does("timer_stop")
    assert maker.batch.timers == ()
    maker.does("timer_stop")
    assert maker.ids() == ["no_timer"]


def test_it_runs_out_to_the_second(maker: Maker) -> None:
    maker.does("timer_set", seconds=60)
    start = maker.now
    assert run_out(maker.batch, start + timedelta(seconds=59)) == ()
    assert len(run_out(maker.batch, start + timedelta(seconds=60))) == 1
