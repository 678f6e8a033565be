"""Timers by name."""

from datetime import timedelta

import pytest
from batch_maker import Maker

from assistant.cook import fold
from assistant.cook.timers import run_out, stopping
from assistant.facts.events import TimerStop


def test_a_timer_of_the_same_name_starts_afresh(maker: Maker) -> None:
    maker.does("timer_set", seconds=60, name="jars")
    maker.does("timer_set", seconds=600, name="jars")
    assert [t.seconds for t in maker.batch.timers] == [600]


def test_stopped_is_the_named_one_or_all(maker: Maker) -> None:
    for name in ("jars", "lids", "cloth"):
        maker.does("timer_set", seconds=60, name=name)
    maker.does("timer_stop", name="lids")
    assert [t.name for t in maker.batch.timers] == ["jars", "cloth"]
    maker.does("timer_stop", name="all")
    assert maker.batch.timers == ()
    maker.does("timer_stop")
    assert maker.ids() == ["no_timer"]


def test_a_second_timer_does_not_replace_the_first(maker: Maker) -> None:
    maker.does("timer_set", seconds=600)
    maker.does("timer_set", seconds=300)
    maker.does("timer_set", seconds=60, name="jars")
    maker.does("timer_set", seconds=900)
    assert [(t.name, t.seconds) for t in maker.batch.timers] == [
        ("timer", 600), ("second timer", 300), ("jars", 60), ("third timer", 900)
    ]  # fmt: skip


def test_any_number_of_them(maker: Maker) -> None:
    for _ in range(25):
        maker.does("timer_set", seconds=6000)
    assert len({t.name for t in maker.batch.timers}) == 25


def test_starting_anew_is_told(maker: Maker) -> None:
    maker.does("timer_set", seconds=60, name="jars")
    maker.does("timer_set", seconds=60, name="jars")
    assert maker.ids() == ["timer_anew"]


def test_of_several_it_is_asked_which_to_stop_unless_one_rings(maker: Maker) -> None:
    maker.does("timer_set", seconds=600, name="jars")
    maker.does("timer_set", seconds=100, name="lids")
    maker.does("timer_stop", 10)
    assert (maker.ids(), len(maker.batch.timers)) == (["which_timer"], 2)
    maker.does("timer_stop", 120)
    assert [t.name for t in maker.batch.timers] == ["jars"]


def test_a_second_timer_goes_by_its_number(maker: Maker) -> None:
    maker.does("timer_set", seconds=600)
    maker.does("timer_set", seconds=600)
    maker.does("timer_stop", name="second")
    assert [t.name for t in maker.batch.timers] == ["timer"]


def test_timers_survive_a_restart(maker: Maker) -> None:
    maker.does("timer_set", seconds=60)
    maker.does("timer_set", seconds=90)
    assert fold(maker.journal)[0].timers == maker.batch.timers


def test_which_batch_has_the_timer_that_is_meant(maker: Maker) -> None:
    stop = TimerStop(at=maker.now)
    assert stopping(maker.batch, stop) == ()
    maker.does("timer_set", seconds=60, name="jars")
    assert stopping(maker.batch, stop) == maker.batch.timers
    assert stopping(maker.batch, stop.model_copy(update={"name": "lids"})) == ()


@pytest.mark.parametrize(
    ("recipe", "told"), [("cold-shrub", True), ("rhubarb-syrup", True), ("berry-syrup", False)]
)
def test_an_overnight_wait_is_told_before_the_batch_is_begun(recipe: str, told: bool) -> None:
    maker = Maker(recipe)
    assert ("long_wait" in maker.ids()) is told
    maker.does("ask", topic="next")
    assert ("long_wait" in maker.ids()) is told


def test_it_runs_out_to_the_second(maker: Maker) -> None:
    maker.does("timer_set", seconds=60)
    start = maker.now
    assert run_out(maker.batch, start + timedelta(seconds=59)) == ()
    assert len(run_out(maker.batch, start + timedelta(seconds=60))) == 1
