"""Holding: counted from readings, asked for again, shown as it counts."""

from datetime import timedelta

import pytest
from batch_maker import Maker
from pydantic import ValidationError

from assistant.cook.kinds import Hold
from assistant.cook.reminders import reminders


def _hold(target: float = 75, ceiling: float = 82) -> Hold:
    body = {"id": "h", "kind": "hold", "say": "", "why": "", "seconds": 90}
    return Hold.model_validate({**body, "target_c": target, "ceiling_c": ceiling})


def test_the_ceiling_lies_above_the_target() -> None:
    with pytest.raises(ValidationError, match="ceiling at or below its target"):
        _hold(ceiling=75)


def test_a_reading_that_would_complete_it_is_asked_back(maker: Maker) -> None:
    maker.up_to("hold")
    stage = maker.batch.stage
    assert stage is not None
    soon, late = (maker.now + timedelta(seconds=s) for s in (60, 95))
    assert [a.confirm for a in stage.awaits(maker.batch, soon)] == [False]
    assert [a.confirm for a in stage.awaits(maker.batch, late)] == [False]
    maker.degrees(76, 50)
    assert [a.confirm for a in stage.awaits(maker.batch, late)] == [True]


def test_the_next_reading_is_asked_for(maker: Maker) -> None:
    maker.up_to("hold")
    assert list(reminders(maker.batch, maker.now + timedelta(seconds=44))) == []
    ((line, _),) = reminders(maker.batch, maker.now + timedelta(seconds=46))
    assert (line.id, line.facts["passed"].value) == ("read_again", 46)  # type: ignore[union-attr]


def test_what_is_left_is_told(maker: Maker) -> None:
    maker.up_to("hold").degrees(76, 40)
    maker.does("ask", topic="how_long")
    (line,) = maker.reply.lines
    assert (line.id, line.facts["left"].value) == ("hold_left", 50)  # type: ignore[union-attr]


def test_below_the_target_it_shows_the_way_back(maker: Maker) -> None:
    maker.up_to("hold").degrees(74, 20)
    assert maker.batch.stage is not None
    shown = maker.batch.stage.glance(maker.batch)
    assert shown is not None
    assert (shown.label.id, shown.note and shown.note.id) == ("glance.too_cold", "glance.back_to")
