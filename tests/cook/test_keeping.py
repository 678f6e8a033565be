"""How long a batch keeps, from what was measured and done."""

from datetime import date, timedelta

from batch_maker import START, Maker

from assistant.cook import begin
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


def _soured(by: str | None = "meter", acid_g: float = 25.0) -> Maker:
    """A litre of elderflower infusion, soured, at its pH."""
    maker = Maker("elderflower-syrup")
    maker.reads("water", 1000, "ml")
    maker.surely("reading", what="citric_acid", value=acid_g, unit="g")
    maker.done()
    maker.does("onward", 43_200)
    maker.done()
    maker.reads("juice", 1000, "ml")
    for degrees in (81, 82, 82, 82):
        maker.degrees(degrees, 40)
    maker.done()
    assert maker.stage == "ph"
    maker.reads("ph", 2.6, "pH")
    if by is not None:
        maker.does("choose", option="ph_by", value=by)
    return maker


def test_a_soured_infusion_is_asked_for_its_meter_and_keeps_by_it() -> None:
    maker = _soured(by=None)
    assert "ph_instrument" in maker.ids()
    assert keeping(maker.batch).decided == "low-acid"
    maker.does("choose", option="ph_by", value="meter")
    # 21 CFR 114.80 judges by the finished pH; 14 days are this project's own
    assert (keeping(maker.batch).days, keeping(maker.batch).decided) == (14, "soured")


def test_what_acid_put_in_can_not_explain_or_strips_read_keeps_days_only() -> None:
    assert keeping(_soured(by="strips").batch).decided == "low-acid"
    assert keeping(_soured(acid_g=1.0).batch).decided == "low-acid"


def test_acid_put_in_after_the_reading_makes_it_stale() -> None:
    maker = _soured()
    maker.surely("reading", what="citric_acid", value=5, unit="g")
    assert keeping(maker.batch).decided == "low-acid"


def _solution(rules: int) -> Maker:
    maker = Maker("citric-solution")
    first = maker.journal[0].model_copy(update={"rules": rules})
    maker.journal[0] = first
    maker.batch, maker.reply = begin(first)  # type: ignore[arg-type]
    maker.reads("water", 1000, "ml")
    maker.done()
    maker.reads("ph", 1.9, "pH")
    return maker


def test_a_very_sour_solution_is_judged_by_its_own_numbers() -> None:
    assert keeping(_solution(2).batch).days == 30


def test_a_batch_of_older_rules_keeps_its_date() -> None:
    assert keeping(_solution(1).batch).days == 5


def test_no_shelf_for_what_has_no_tested_process() -> None:
    for batch in (_solution(2).batch, _soured().batch):
        assert keeping(batch, "cupboard").days is None


def test_spirit_counts_by_what_went_in() -> None:
    for ml, days in ((1300, 90), (500, 14)):  # 1.9 l of syrup; the lesser spirit only thins it
        maker = Maker("spirit-fortified-syrup")
        maker.reads("water", 1000, "ml")
        for degrees in (76, 77, 77, 77):
            maker.degrees(degrees, 40)
        maker.done()
        maker.done()
        maker.degrees(22)
        assert maker.stage == "spirit"
        assert keeping(maker.batch).days != 90
        maker.surely("reading", what="ingredient", of="spirit", value=ml * 1.9, unit="ml")
        maker.reads("ph", 3.0, "pH")
        assert keeping(maker.batch).days == days, ml
