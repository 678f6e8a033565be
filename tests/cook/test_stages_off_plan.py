"""Readings that do not go as planned, each answered with what to do."""

import pytest
from batch_maker import Maker

from assistant.cook.holding import held
from assistant.cook.keeping import keeping
from assistant.cook.stock import juice, main_sugar, syrup


def test_the_fruit_weight_is_answered_with_the_sugar(maker: Maker) -> None:
    maker.up_to("crush")
    lines = {line.id: line for line in maker.reply.lines}
    # The recipe's own ratio: a quarter of the fruit
    assert lines["stage"].facts["crushing_sugar"].value == pytest.approx(600)  # type: ignore[union-attr]
    assert "sugar_to_come" in lines


def test_strawberry_balance_agrees_with_a_kitchen_batch() -> None:
    """675 g of strawberries, 200 g and 1100 g of sugar, 500 ml water, 1 l of juice: 1.5 l of syrup.

    common practice, no source; within 15 %.
    """
    maker = Maker()
    maker.does("choose", option="fruit", value="strawberry")
    maker.reads("fruit", 675, "g")
    maker.reads("sugar", 200, "g")
    maker.reads("water", 500, "ml")
    maker.does("yes")
    maker.degrees(76)
    maker.degrees(76, 45)
    maker.degrees(76, 50)
    maker.done(1300)
    maker.done()
    maker.done()
    maker.reads("juice", 1, "l")
    maker.degrees(40)
    maker.reads("sugar", 1100, "g")
    stock = syrup(maker.batch)
    assert stock is not None
    assert stock.volume_ml.likely == pytest.approx(1500, rel=0.15)
    assert maker.stage == "sharpen"


def test_seconds_below_the_target_do_not_count_and_the_hold_starts_anew(maker: Maker) -> None:
    maker.up_to("hold")
    maker.degrees(76, 60)
    maker.degrees(71, 20)
    assert "hold_lost" in maker.ids()
    maker.degrees(76, 40)
    maker.degrees(76, 60)
    assert maker.stage == "hold"
    maker.degrees(76, 40)
    assert maker.stage == "steep"
    assert held(maker.batch).seconds == 100


def test_too_hot_in_the_hold_is_said(maker: Maker) -> None:
    maker.up_to("hold")
    maker.degrees(83, 20)
    assert "hold_hot" in maker.ids()
    maker.degrees(88, 20)
    assert "limit" in maker.ids()


def test_a_skipped_hold_needs_two_words_and_costs_days(maker: Maker) -> None:
    maker.up_to("hold")
    maker.done()
    assert maker.stage == "hold"
    assert maker.ids() == ["without_hold"]
    maker.done()
    assert maker.stage == "steep"
    assert not held(maker.batch).complete
    with_hold = Maker().up_to("bottle").batch
    days = keeping(with_hold).days
    assert days is not None
    assert (keeping(maker.batch).days or 0) < days


@pytest.mark.parametrize("value", [4.6, 5.2, 7.0])
def test_a_ph_past_the_regulation_holds_the_batch(maker: Maker, value: float) -> None:
    # 21 CFR 114.3: 4.6
    maker.up_to("ph")
    maker.reads("ph", value, "pH")
    assert maker.reply.stopped
    for _ in range(3):
        maker.done()
        assert maker.stage == "ph"
    maker.reads("ph", 3.5, "pH")
    assert maker.ids()[0].startswith("ph_unexplained")
    maker.reads("ph", 3.5, "pH")
    assert maker.stage == "bottle"
    assert maker.batch.stopped_by is None


@pytest.mark.parametrize("value", [4.01, 4.59])
def test_a_ph_past_the_makers_bound_is_warned_about(maker: Maker, value: float) -> None:
    # FDA, Juice HACCP Hazards and Controls Guidance (2004), V.C.5.2: pH 4.0 or less
    maker.up_to("ph")
    maker.reads("ph", value, "pH")
    assert maker.stage == "ph"
    assert not maker.reply.stopped
    assert maker.reply.lines[0].rank == "caution"


def test_a_later_ph_past_the_regulation_stops_bottling(maker: Maker) -> None:
    maker.up_to("bottle")
    maker.reads("ph", 4.8, "pH")
    maker.does("bottle", count=9, size_ml=500)
    assert maker.ids() == ["stopped_no_bottling"]
    assert maker.batch.bottled is None


def test_an_unmeasured_ph_keeps_days_only(maker: Maker) -> None:
    maker.up_to("ph")
    maker.done()
    assert maker.ids() == ["without_ph"]
    maker.done()
    assert maker.stage == "bottle"
    assert (keeping(maker.batch).days or 99) <= 3


def test_a_correction_remakes_the_reading_at_its_own_time(maker: Maker) -> None:
    maker.up_to("cool")
    maker.degrees(48)
    said_at = maker.now
    maker.does("correct", after_s=20, value=44.0)
    assert maker.stage == "dissolve"
    last = maker.batch.last("temperature")
    assert last is not None
    assert (last.base, last.at) == (44.0, said_at)


def test_contradictory_corrections_end_with_the_last(maker: Maker) -> None:
    maker.up_to("cool")
    maker.degrees(48)
    maker.does("correct", value=44.0)
    maker.does("correct", value=49.0)
    assert maker.stage == "cool"
    maker.does("correct", value=40.0)
    assert maker.stage == "dissolve"
    temps = [t.base for t in maker.batch.taken if t.what == "temperature" and t.stage == "cool"]
    assert temps == [40.0]


def test_a_correction_of_an_added_amount(maker: Maker) -> None:
    maker.up_to("crush")
    maker.reads("sugar", 700, "g")
    maker.does("correct", value=650)
    assert maker.batch.total("crushing_sugar") == 650


def test_a_correction_with_nothing_to_correct(maker: Maker) -> None:
    maker.up_to("strain")
    maker.does("correct", value=60)
    assert maker.ids() == ["nothing_to_correct"]


def test_a_correction_in_another_unit_is_asked_about(maker: Maker) -> None:
    maker.up_to("cool")
    maker.degrees(48)
    maker.does("correct", value=2, unit="kg")
    assert maker.ids() == ["correction_elsewhere"]


def test_a_reading_for_another_stage_leaves_the_batch(maker: Maker) -> None:
    maker.up_to("crush")
    before = maker.batch.taken
    maker.reads("juice", 2, "l")
    assert maker.ids()[0] == "not_asked_yet"
    maker.reads("fruit", 3, "kg")
    assert maker.ids()[0] == "have_already"
    assert (maker.batch.taken, maker.stage) == (before, "crush")


def test_impossible_weights_are_asked_again(maker: Maker) -> None:
    maker.reads("fruit", 900, "kg")
    assert maker.ids() == ["too_odd"]
    assert maker.stage == "weigh"


@pytest.mark.parametrize(
    ("what", "value", "unit"),
    [("temperature", 400, "degC"), ("ph", 15, "pH"), ("brix", 95, "Brix"), ("sugar", 0, "g")],
)
def test_what_cannot_be_is_not_taken(maker: Maker, what: str, value: float, unit: str) -> None:
    maker.up_to("heat")
    before = maker.batch.taken
    maker.reads(what, value, unit)
    assert maker.ids() == ["too_odd"]
    assert (maker.batch.taken, maker.stage) == (before, "heat")


def test_a_correction_to_what_cannot_be_is_not_taken(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 3.2, "pH")
    maker.does("correct", value=15)
    assert maker.ids() == ["too_odd"]
    last = maker.batch.last("ph")
    assert last is not None
    assert last.base == 3.2


def test_a_low_acid_fruit_is_refused(maker: Maker) -> None:
    # FDA/CFSAN Approximate pH of Foods: figs 5.05 to 5.98
    maker.does("choose", option="fruit", value="fig")
    assert maker.ids() == ["fruit_low_acid"]
    assert maker.batch.fruit is None


@pytest.mark.parametrize(
    ("dose", "line"),
    [
        (0.075, "sorbate_tenth"),  # common practice, no source: a working dose is about 0.75 g/l
        (7.5, "sorbate_tenfold"),
        (0.9, "limit"),  # Codex GSFA 14.1.4: 500 mg/kg as sorbic acid
    ],
)
def test_a_slipped_or_excessive_sorbate_dose_is_not_taken(
    maker: Maker, dose: float, line: str
) -> None:
    maker.up_to("ask_sorbate")
    maker.reads("sorbate", dose, "g/l")
    assert maker.ids()[0] == line
    assert maker.batch.addition("sorbate") is None
    assert maker.stage == "ask_sorbate"


def test_the_planned_sorbate_stays_under_the_strictest_ceiling(maker: Maker) -> None:
    # Regulation (EC) 1333/2008 Annex II 14.1.4: 300 mg/l as sorbic acid (from memory)
    maker.up_to("ask_sorbate")
    maker.does("yes")
    maker.done()
    stock = syrup(maker.batch)
    assert stock is not None
    acid = maker.batch.total("sorbate") * 112.128 / 150.218 / (stock.volume_ml.low / 1000)
    assert 0.25 < acid <= 0.3


def test_an_option_declined_leaves_its_stage_out(maker: Maker) -> None:
    maker.up_to("ask_glycerin")
    maker.does("no")
    assert maker.stage == "ask_sorbate"
    maker.does("yes")
    assert maker.stage == "sorbate"


def test_a_short_rest_is_remarked_upon_once(maker: Maker) -> None:
    maker.up_to("steep")
    maker.done(300)
    assert maker.ids() == ["rest_short"]
    maker.done(5)
    assert maker.stage == "strain"


def test_more_bottles_than_syrup_are_asked_about(maker: Maker) -> None:
    maker.up_to("bottle")
    maker.does("bottle", count=30, size_ml=500)
    assert maker.ids() == ["ask_bottles_many"]


def test_a_refractometer_reading_changes_the_sugar(maker: Maker) -> None:
    maker.up_to("cool")
    planned = main_sugar(maker.batch)
    maker.reads("brix", 20, "Brix")
    now = main_sugar(maker.batch)
    assert planned is not None
    assert now is not None
    assert now.likely > planned.likely
    assert now.low == now.high


def test_juice_by_weight_and_by_volume_agree(maker: Maker) -> None:
    maker.up_to("juice")
    maker.reads("juice", 2.9, "l")
    by_volume = juice(maker.batch)
    assert by_volume is not None
    maker.does("undo")
    maker.reads("juice", by_volume.mass_g.likely, "g")
    by_weight = juice(maker.batch)
    assert by_weight is not None
    assert by_weight.volume_ml.likely == pytest.approx(2900, rel=0.01)


def test_amounts_scale_with_the_fruit() -> None:
    small, large = Maker(), Maker()
    small.reads("fruit", 1, "kg")
    large.reads("fruit", 5, "kg")
    one, five = main_sugar(small.batch), main_sugar(large.batch)
    assert one is not None
    assert five is not None
    assert five.likely == pytest.approx(5 * one.likely)


def test_the_unit_of_the_weight_does_not_matter() -> None:
    grams, pounds = Maker(), Maker()
    grams.reads("fruit", 907.18474, "g")
    pounds.reads("fruit", 2, "lb")
    a, b = main_sugar(grams.batch), main_sugar(pounds.batch)
    assert a is not None
    assert b is not None
    assert a.likely == pytest.approx(b.likely)


def test_acid_by_the_spoon_is_weighed_in_the_mind(maker: Maker) -> None:
    # 12 g of citric acid is about one level tablespoon: common practice, no source
    maker.up_to("sharpen")
    maker.reads("citric_acid", 1, "tbsp")
    assert maker.batch.total("citric_acid") == pytest.approx(12, rel=0.3)
    assert "by_spoon" in maker.ids()


def test_sorbate_by_the_spoon_counts_as_its_heavier_end(maker: Maker) -> None:
    # a quarter teaspoon holds on the order of 0.7 to 1 g: common practice, no source
    maker.up_to("ask_sorbate")
    maker.reads("sorbate", 0.5, "tsp")
    assert "by_spoon" in maker.ids()
    assert maker.batch.total("sorbate") >= 0.5 * 4 * 0.7
    maker.reads("sorbate", 2, "tsp")
    assert "limit" in maker.ids()
    assert maker.batch.stopped_by == "sorbate-codex-drinks"


def test_two_readings_tell_how_long_the_warming_takes(maker: Maker) -> None:
    maker.up_to("heat")
    maker.degrees(45, 60)
    maker.degrees(55, 120)
    line = next(line for line in maker.reply.lines if line.id == "to_go_in")
    # 5 degrees a minute, 20 to go
    assert line.facts["time"].value == pytest.approx(240, abs=30)  # type: ignore[union-attr]


def test_a_cooling_pan_is_given_no_time(maker: Maker) -> None:
    maker.up_to("heat")
    maker.degrees(55, 60)
    maker.degrees(50, 120)
    assert "to_go" in maker.ids()


def test_a_high_ph_is_answered_with_a_first_portion_of_acid(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.7, "pH")
    advice = next(line for line in maker.reply.lines if line.id == "acid_first")
    first, whole = advice.facts["first"], advice.facts["whole"]
    assert 0 < first.value < whole.value  # type: ignore[union-attr]
    higher = Maker().up_to("ph").reads("ph", 5.0, "pH")
    more = next(line for line in higher.lines if line.id == "acid_first")
    assert more.facts["whole"].value > whole.value  # type: ignore[union-attr]


def test_a_pint_is_told_by_whose_measure_it_was_taken(maker: Maker) -> None:
    maker.up_to("juice")
    maker.reads("juice", 5, "pint")
    line = next(line for line in maker.reply.lines if line.id == "whose_measure")
    # US pint 473.176 ml, imperial pint 568.261 ml (UK Metric Association, cup sizes doubled)
    assert line.facts["took"].value == pytest.approx(5 * 473.176, abs=0.1)  # type: ignore[union-attr]
    assert line.facts["most"].value == pytest.approx(5 * 568.261, abs=0.1)  # type: ignore[union-attr]
