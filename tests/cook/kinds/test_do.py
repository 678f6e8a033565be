"""Doing: at the cook's word."""

from batch_maker import Maker


def test_one_word_is_enough(maker: Maker) -> None:
    maker.up_to("strain").done()
    assert maker.stage == "make_up"
    assert maker.batch.skipped == frozenset()


def test_it_awaits_and_shows_nothing(maker: Maker) -> None:
    stage = maker.up_to("strain").batch.stage
    assert stage is not None
    assert stage.awaits(maker.batch, maker.now) == ()
    assert stage.glance(maker.batch) is None
