"""Mould, fizz or an off smell before bottling holds the batch until the cook says what it was."""

import pytest
from batch_maker import Maker

from assistant.base.errors import LimitStopped
from assistant.cook import asked, fold
from assistant.facts.events import Begin, Discard, Sign
from assistant.label.content import label_text
from assistant.larder.lines import larder_lines
from assistant.larder.shelf import larder
from assistant.report.batch import batch_lines
from assistant.say import spoken

STAGES = ("weigh", "crush", "heat", "steep", "juice", "dissolve", "ph", "bottle")


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("what", ["mould", "fizzing", "off_smell"])
def test_a_sign_holds_the_batch_at_any_stage(maker: Maker, stage: str, what: str) -> None:
    maker.up_to(stage)
    reply = maker.does("sign", what=what)
    assert reply.stopped
    assert [line.rank for line in reply.lines] == ["limit", "question"]
    for act in (maker.done, lambda: maker.degrees(80), lambda: maker.reads("ph", 3.2, "pH")):
        act()
        assert (maker.stage, maker.reply.stopped) == (stage, True)
    maker.does("bottle", count=9, size_ml=500)
    assert maker.batch.bottled is None
    assert [seen.what for seen in maker.batch.stored.signs] == [what]


def test_a_false_alarm_lets_it_go_on_where_it_was(maker: Maker) -> None:
    maker.up_to("strain")
    before = maker.batch.taken
    maker.does("sign", what="fizzing")
    assert asked(maker.batch, maker.now).yes_no
    maker.does("no")
    assert maker.ids() == ["sign_cleared", "stage"]
    assert (maker.batch.stopped, maker.batch.taken) == (False, before)
    maker.done()
    assert maker.stage == "make_up"


def test_a_sure_sign_leaves_only_the_bin(maker: Maker) -> None:
    maker.up_to("juice")
    maker.does("sign", what="mould")
    maker.does("yes")
    assert not asked(maker.batch, maker.now).yes_no
    maker.does("no")
    maker.reads("juice", 2.9, "l")
    assert (maker.stage, maker.ids()) == ("juice", ["sign_stands"])
    maker.does("discard")
    assert maker.batch.ended == "discarded"


def test_said_again_after_sure_is_taken_back_by_undo_alone(maker: Maker) -> None:
    maker.up_to("juice")
    maker.does("sign", what="mould")
    maker.does("yes")
    maker.does("undo")
    maker.does("no")
    assert not maker.batch.stopped


def test_a_ph_that_is_in_order_does_not_lift_it(maker: Maker) -> None:
    maker.up_to("ph")
    maker.does("sign", what="mould")
    maker.reads("ph", 3.2, "pH")
    assert maker.batch.stopped
    assert maker.batch.last("ph") is None


def test_juice_may_be_cloudy_before_it_is_bottled(maker: Maker) -> None:
    maker.up_to("juice")
    maker.does("sign", what="cloudy")
    assert (maker.ids(), maker.batch.stopped) == (["sign_early"], False)


def test_it_shows_in_the_report_the_label_and_the_larder(maker: Maker) -> None:
    maker.up_to("bottle")
    maker.does("sign", what="mould")
    assert any("mould" in line for line in batch_lines(maker.journal)[:3])
    with pytest.raises(LimitStopped, match="mould"):
        label_text(maker.batch, maker.now.date())
    lines = larder_lines(larder([maker.journal], maker.now.date()))
    assert lines[0].id == "larder.in_the_pan"
    assert "do not use it" in spoken(maker.does("ask", topic="keep"))


def test_a_false_alarm_and_a_thrown_batch_are_not_in_the_larder(maker: Maker) -> None:
    maker.up_to("juice")
    maker.does("sign", what="mould")
    thrown = [*maker.journal, Discard(at=maker.now)]
    assert larder([thrown], maker.now.date()).entries == ()
    maker.does("no")
    assert larder([maker.journal], maker.now.date()).entries == ()


def test_a_batch_of_older_rules_keeps_its_bottles_but_nobody_is_to_drink_them(maker: Maker) -> None:
    maker.up_to("finished")
    first, *rest = maker.journal
    assert isinstance(first, Begin)
    sign = Sign(at=rest[2].at, what="mould")
    batch, _ = fold([first.model_copy(update={"rules": 0}), *rest[:3], sign, *rest[3:]])
    assert batch.bottled is not None
    assert batch.barred == "signed"


def test_no_option_is_answered_while_a_sure_sign_stands(maker: Maker) -> None:
    maker.up_to("ask_glycerin")
    maker.does("sign", what="mould")
    maker.does("yes")
    maker.does("no")
    assert (maker.stage, maker.ids()) == ("ask_glycerin", ["sign_stands"])
