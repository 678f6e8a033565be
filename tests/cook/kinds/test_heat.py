"""Heating: on at the target, and what is missing before it."""

import pytest
from batch_maker import Maker


@pytest.mark.parametrize(("degrees", "stage"), [(74.9, "heat"), (75, "hold"), (80, "hold")])
def test_on_at_the_target(maker: Maker, degrees: float, stage: str) -> None:
    maker.up_to("heat").degrees(degrees)
    assert maker.stage == stage


def test_the_degrees_that_are_missing_are_told(maker: Maker) -> None:
    maker.up_to("heat").degrees(71)
    (line,) = [line for line in maker.reply.lines if line.id == "to_go"]
    assert line.facts["left"] == 4


def test_nearly_there_is_one_degree_and_never_none(maker: Maker) -> None:
    maker.up_to("heat").degrees(74.8)
    assert maker.reply.lines[1].facts["left"] == 1


def test_the_target_decides(maker: Maker) -> None:
    maker.up_to("heat")
    assert maker.batch.stage is not None
    (found,) = maker.batch.stage.awaits(maker.batch, maker.now)
    assert (found.what, found.decides, found.confirm) == ("temperature", (75.0,), False)


def test_it_is_hot_and_a_pause_says_so(maker: Maker) -> None:
    maker.up_to("heat").does("pause")
    assert maker.ids() == ["paused", "pause_heat"]


def test_the_last_reading_is_shown_with_what_is_missing(maker: Maker) -> None:
    maker.up_to("heat")
    stage = maker.batch.stage
    assert stage is not None
    first = stage.glance(maker.batch)
    maker.degrees(60)
    then = stage.glance(maker.batch)
    assert first is not None
    assert then is not None
    assert (first.label.id, then.label.id) == ("glance.warm_to", "glance.in_the_pan")
    assert then.note is not None
    assert then.note.facts["left"] == 15
