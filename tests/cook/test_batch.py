"""The state of a batch, as it tells itself."""

from dataclasses import replace

from batch_maker import Maker

from assistant.cook.batch import Bottled


def test_before_anything_was_measured_it_has_no_start(maker: Maker) -> None:
    assert maker.batch.start is None
    assert maker.batch.last("fruit") is None


def test_the_latest_reading_counts_and_the_first_is_the_start(maker: Maker) -> None:
    maker.up_to("heat")
    maker.degrees(40)
    maker.degrees(50)
    last = maker.batch.last("temperature")
    assert last is not None
    assert (last.base, last.stage) == (50, "heat")
    assert maker.batch.start is not None
    assert maker.batch.start.base == 2400


def test_a_stage_is_reached_at_it_and_past_it(maker: Maker) -> None:
    maker.up_to("heat")
    assert maker.batch.reached("crush")
    assert maker.batch.reached("heat")
    assert not maker.batch.reached("hold")
    assert not maker.batch.reached("no such stage")


def test_bottles_are_closed_or_open_or_gone(maker: Maker) -> None:
    maker.up_to("finished")
    maker.does("opened", count=2)
    maker.does("used", count=3)
    assert (maker.batch.in_store, maker.batch.closed) == (6, 6)


def test_it_never_owes_bottles(maker: Maker) -> None:
    maker.up_to("finished").does("used", count=9)
    fewer = replace(maker.batch, bottled=Bottled(4, 500, maker.now))
    assert fewer.in_store == 0


def test_a_limit_bars_it_before_a_sign_does(maker: Maker) -> None:
    maker.up_to("finished").does("sign", what="mould")
    assert maker.batch.barred == "signed"
    assert replace(maker.batch, stopped_by="ph-acid-food").barred == "stopped"
