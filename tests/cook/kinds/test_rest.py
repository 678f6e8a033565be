"""Resting: how long is long enough, and when the cook is called."""

from datetime import timedelta

import pytest
from batch_maker import Maker

from assistant.cook.reminders import reminders

MINUTES = 20.0
"""What the recipe lets it steep for."""


@pytest.mark.parametrize(
    ("share", "goes_on"), [(0.5, False), (0.7, False), (0.85, True), (1, True)]
)
def test_most_of_the_time_is_enough(maker: Maker, share: float, goes_on: bool) -> None:
    maker.up_to("steep").done(share * MINUTES * 60)
    assert maker.stage == ("strain" if goes_on else "steep")
    assert ("rest_short" in maker.ids()) is not goes_on


def test_a_short_rest_leaves_nothing_out(maker: Maker) -> None:
    maker.up_to("steep").done(60)
    maker.done(5)
    assert maker.stage == "strain"
    assert maker.batch.skipped == frozenset()


def test_the_cook_is_called_when_it_is_over(maker: Maker) -> None:
    maker.up_to("steep")
    over = maker.now + timedelta(minutes=MINUTES)
    assert list(reminders(maker.batch, over - timedelta(seconds=1))) == []
    ((line, _),) = reminders(maker.batch, over)
    assert line.id == "rest_over"


def test_how_long_is_told_by_the_clock(maker: Maker) -> None:
    maker.up_to("steep")
    maker.does("ask", 300, topic="how_long")
    (line,) = maker.reply.lines
    assert (line.id, line.facts["left"].value) == ("rest_left", 900)  # type: ignore[union-attr]
