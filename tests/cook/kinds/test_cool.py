"""Cooling: on at the limit or below."""

import pytest
from batch_maker import Maker


@pytest.mark.parametrize(("degrees", "stage"), [(45.5, "cool"), (45, "dissolve"), (20, "dissolve")])
def test_on_at_the_limit(maker: Maker, degrees: float, stage: str) -> None:
    maker.up_to("cool").degrees(degrees)
    assert maker.stage == stage


def test_still_too_warm_names_the_limit(maker: Maker) -> None:
    maker.up_to("cool").degrees(60)
    line = maker.reply.lines[1]
    assert (line.id, line.facts["below"].value) == ("still_warm", 45)  # type: ignore[union-attr]


def test_it_may_be_gone_without_at_the_second_word(maker: Maker) -> None:
    maker.up_to("cool").done()
    assert maker.ids() == ["without_cooling"]
    maker.done()
    assert maker.stage == "dissolve"


def test_nothing_is_on_the_fire(maker: Maker) -> None:
    maker.up_to("cool").does("pause")
    assert maker.ids() == ["paused"]
