"""Filling bottles: what is held back, and what is said before they go away."""

from batch_maker import Maker

from assistant.cook import fold


def test_bottles_before_their_stage_are_put_off(maker: Maker) -> None:
    maker.up_to("ph").does("bottle", count=3)
    assert maker.ids()[0] == "bottling_later"
    assert maker.batch.bottled is None


def test_a_size_is_read_back_where_it_was_said(maker: Maker) -> None:
    maker.up_to("bottle").does("bottle", count=9)
    assert maker.ids()[0] == "bottles_read_back"
    maker.does("undo")
    maker.does("bottle", count=9, size_ml=500)
    assert maker.ids()[0] == "vessels"


def test_a_batch_that_was_not_heated_is_told_weak(maker: Maker) -> None:
    maker.up_to("hold").done()
    maker.done()
    assert "hold" in maker.batch.skipped
    for _ in range(20):
        if maker.stage == "bottle":
            break
        stage = maker.batch.stage
        assert stage is not None
        maker.does("no" if stage.kind == "option" else "onward", 1500)
        if maker.stage == "ph":
            maker.reads("ph", 3.4, "pH")
        if maker.stage == "juice":
            maker.reads("juice", 2.9, "l")
    maker.does("bottle", count=9, size_ml=500)
    assert "weak_batch" in maker.ids()


def test_a_whole_batch_is_told_nothing_of_the_kind(maker: Maker) -> None:
    maker.up_to("store")
    assert "weak_batch" not in maker.ids()


def test_bottles_of_several_sizes_are_one_filling(maker: Maker) -> None:
    maker.up_to("bottle")
    maker.does("bottle", count=6, size_ml=500, more=[{"count": 6, "size_ml": 250}])
    filled = maker.batch.bottled
    assert filled is not None
    assert (filled.count, filled.size_ml, maker.batch.in_store) == (12, None, 12)
    assert [(lot.count, lot.size_ml) for lot in filled.lots] == [(6, 500), (6, 250)]
    assert fold(maker.journal)[0] == maker.batch


def test_several_sizes_that_the_syrup_cannot_fill_are_asked(maker: Maker) -> None:
    maker.up_to("bottle")
    maker.does("bottle", count=9, size_ml=500, more=[{"count": 9, "size_ml": 500}])
    assert maker.ids() == ["ask_bottles_many"]
