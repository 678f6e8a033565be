"""A journal walked through: the stages with their times, and what was planned on the way."""

from itertools import pairwise

import pytest
from batch_maker import Maker

from assistant.facts.events import Undo
from assistant.planning import stays
from assistant.planning.replay import planned_amounts


@pytest.fixture
def maker() -> Maker:
    return Maker()


def test_the_plan_is_what_was_asked_when_it_went_in(maker: Maker) -> None:
    maker.up_to("dissolve")
    maker.done()
    before = planned_amounts(maker.journal)["main_sugar"].value
    maker.reads("brix", 58, "Brix")
    assert planned_amounts(maker.journal)["main_sugar"].value == before


def test_stages_follow_each_other_without_a_gap(maker: Maker) -> None:
    maker.up_to("store")
    maker.done()
    found = stays(maker.journal)
    assert [s.stage for s in found][:3] == ["weigh", "crush", "water"]
    assert "ascorbic" not in {s.stage for s in found}
    assert all(a.left_at == b.entered_at for a, b in pairwise(found))
    whole = (maker.now - maker.journal[0].at).total_seconds()
    assert sum(s.seconds or 0 for s in found) == whole


def test_an_unfinished_batch_is_still_somewhere(maker: Maker) -> None:
    maker.up_to("steep")
    last = stays(maker.journal)[-1]
    assert (last.stage, last.seconds) == ("steep", None)


def test_a_stage_taken_back_is_not_told_twice(maker: Maker) -> None:
    maker.up_to("water")
    maker.done()
    maker.does("undo")
    assert isinstance(maker.journal[-1], Undo)
    maker.done()
    names = [s.stage for s in stays(maker.journal)]
    assert names == ["weigh", "crush", "water", "heat"]
