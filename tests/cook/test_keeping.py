"""How long a batch keeps, from what was measured and done."""

from datetime import date, timedelta

from batch_maker import START, Maker

from assistant.cook.keeping import closed_until, in_words, keep_by_words, keeping


def test_a_measured_ph_keeps_longer_than_none(maker: Maker) -> None:
    unknown = keeping(maker.up_to("ph").batch).days
    maker.reads("ph", 3.2, "pH")
    known = keeping(maker.batch).days
    assert unknown is not None
    assert known is not None
    assert known > unknown


def test_a_low_acid_recipe_keeps_days_only_whatever_was_measured() -> None:
    maker = Maker("nut-syrup")
    maker.reads("ph", 3.2, "pH")
    assert keeping(maker.batch).days == 2


def test_days_count_from_filling(maker: Maker) -> None:
    maker.up_to("finished")
    days = keeping(maker.batch).days
    assert days is not None
    assert closed_until(maker.batch, maker.now) == START.date() + timedelta(days=days)


def test_a_stopped_batch_has_no_day(maker: Maker) -> None:
    maker.up_to("ph").reads("ph", 5.0, "pH")
    assert closed_until(maker.batch, maker.now) is None
    assert keep_by_words(maker.batch, maker.now) == "do not keep"


def test_a_day_in_words() -> None:
    assert in_words(date(2026, 12, 1)) == "1 December"
