"""Bottling: a count, and how many it is likely to be."""

from batch_maker import Maker


def test_done_is_no_count(maker: Maker) -> None:
    maker.up_to("bottle").done()
    assert (maker.stage, maker.ids()[0]) == ("bottle", "stage")
    assert maker.batch.bottled is None


def test_the_bottles_it_will_be_are_shown(maker: Maker) -> None:
    maker.up_to("bottle")
    assert maker.batch.stage is not None
    shown = maker.batch.stage.glance(maker.batch)
    assert shown is not None
    # 4.89 l of syrup by its mass balance: ten half-litre bottles, the last one not full
    assert shown.text == "10"


def test_a_plain_number_is_bottles(maker: Maker) -> None:
    maker.up_to("bottle").reads("bottles", 9, "count")
    assert maker.batch.bottled is not None
    assert (maker.batch.bottled.count, maker.stage) == (9, "store")


def test_half_a_bottle_is_asked_about(maker: Maker) -> None:
    maker.up_to("bottle").reads("bottles", 8.5, "count")
    assert maker.ids() == ["bottles_whole"]
    assert maker.batch.bottled is None
