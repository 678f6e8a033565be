"""The few ways a batch changes."""

from dataclasses import replace

from batch_maker import Maker

from assistant.cook.changes import advance, changed, stay, wanted
from assistant.cook.reply import Line


def test_a_change_remembers_what_it_was_made_from(maker: Maker) -> None:
    before = maker.batch
    after = changed(before, replace(before, fruit="rhubarb"))
    assert after.before is before
    assert after.fruit == "rhubarb"


def test_stages_of_an_option_nobody_chose_are_passed_over(maker: Maker) -> None:
    maker.up_to("ask_ascorbic")
    there = advance(maker.batch, maker.now)
    assert there.stage is not None
    assert there.stage.id == "ask_glycerin"
    chosen = advance(maker.batch.with_choice("ascorbic_acid", True), maker.now)
    assert chosen.stage is not None
    assert chosen.stage.id == "ascorbic"


def test_the_last_stage_done_ends_it(maker: Maker) -> None:
    maker.up_to("store")
    assert advance(maker.batch, maker.now).ended == "finished"


def test_going_on_drops_the_word_to_go_on(maker: Maker) -> None:
    insisting = replace(maker.batch, insisted="weigh")
    assert advance(insisting, maker.now).insisted is None


def test_a_stage_without_an_option_is_wanted(maker: Maker) -> None:
    assert wanted(maker.batch, maker.batch.stages[0])


def test_a_batch_that_waits_says_that_it_is_stopped(maker: Maker) -> None:
    held = replace(maker.batch, stopped_by="ph-acid-food")
    line = Line(id="noted", rank="answer")
    assert stay(held, line)[1].stopped
    assert not stay(maker.batch, line)[1].stopped
