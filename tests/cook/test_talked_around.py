"""What nobody talks the batch into: each test is a line that once was believed."""

from datetime import timedelta

import pytest
from batch_maker import START, Maker

from assistant.cook import Batch, fold
from assistant.cook.keeping import closed_until, keeping
from assistant.facts.events import AnyEvent, Begin


def says(maker: Maker, line: str) -> bool:
    return line in maker.ids()


# Preservatives, by running total.


def test_four_doses_of_sorbate_in_a_row_stop_the_batch(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    for _ in range(4):
        maker.reads("sorbate", 0.6, "g")
    # Codex GSFA 14.1.4: 500 mg/kg as sorbic acid; four times 0.6 g in 4 l is under it, eight over.
    for _ in range(4):
        maker.reads("sorbate", 0.6, "g")
    assert maker.batch.stopped_by == "sorbate-codex-drinks"
    assert maker.reply.stopped
    maker.does("bottle", count=8, size_ml=500)
    assert maker.batch.bottled is None


def test_sorbate_that_was_dosed_is_not_asked_for_again(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    maker.reads("sorbate", 0.3, "g/l")
    once = maker.batch.total("sorbate")
    maker.does("yes")
    assert maker.stage != "sorbate"
    assert all("sorbate" not in (line.text or "") for line in maker.reply.lines)
    maker.done()
    assert maker.batch.total("sorbate") == once


def test_whether_to_put_it_in_is_not_asked_where_it_is(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    maker.reads("sorbate", 0.8, "g")
    maker.does("ask", topic="next")
    assert says(maker, "dosed_already")
    maker.does("yes")
    assert maker.stage == "ph"


def test_a_smaller_yield_later_is_held_against_what_went_in(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    maker.reads("sorbate", 0.4, "g/l")
    maker.does("yes")
    maker.reads("yield", 1.5, "l")
    maker.does("yes")
    assert maker.batch.stopped_by == "sorbate-codex-drinks"


def test_a_dose_before_the_juice_is_measured_is_held_against_the_juice(maker: Maker) -> None:
    maker.up_to("crush")
    maker.reads("sorbate", 1.6, "g")
    assert maker.batch.stopped_by is None
    for stage in ("crush", "water"):
        assert maker.stage == stage
        maker.done()
    maker.degrees(76)
    maker.degrees(77, 45)
    maker.degrees(76, 50)
    maker.done(1260)
    maker.done()
    maker.done()
    maker.reads("juice", 0.8, "l")
    maker.does("yes")
    assert maker.batch.stopped_by == "sorbate-codex-drinks"


@pytest.mark.parametrize("share", [12, 60])
def test_a_recipe_cannot_have_more_weighed_out_than_a_ceiling(share: int) -> None:
    body = dict(Maker().journal[0].recipe)  # type: ignore[union-attr]
    rule = {"rule": "per_litre", "of": "syrup", "amount": 0.4 * share, "unit": "g"}
    body["amounts"] = {**body["amounts"], "sorbate": rule}
    maker = Maker.of(body).up_to("ask_sorbate")
    maker.does("yes")
    stated = maker.reply.lines[0].facts["sorbate"]
    litres = 4.0
    assert stated.value / litres < 0.67  # type: ignore[union-attr]  # Codex GSFA 14.1.4, as above


def test_sorbate_lengthens_no_date(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    maker.does("no")
    plain = maker.batch
    dosed = Maker().up_to("ask_sorbate")
    dosed.reads("sorbate", 0.6, "g/l")
    assert (keeping(dosed.batch).days or 0) <= (keeping(plain).days or 0)


@pytest.mark.parametrize(
    ("what", "grams", "stop"),
    [
        ("benzoate", 2.4, "benzoate-codex-drinks"),  # Codex GSFA 14.1.4: 250 mg/kg, from memory
        ("sulphite", 1.2, "sulphite-codex-drinks"),  # Codex GSFA 14.1.4: 70 mg/kg, from memory
    ],
)
def test_other_preservatives_have_their_ceilings(
    maker: Maker, what: str, grams: float, stop: str
) -> None:
    maker.up_to("ask_sorbate")
    maker.reads(what, grams / 4, "g")
    assert maker.batch.stopped_by is None
    maker.reads(what, grams, "g")
    assert maker.batch.stopped_by == stop


@pytest.mark.parametrize(("dose", "unit"), [(600, "ppm"), (0.06, "%"), (0.6, "g/kg")])
def test_a_share_of_the_syrup_s_mass_is_more_than_that_of_its_litres(
    maker: Maker, dose: float, unit: str
) -> None:
    # A 62 Brix syrup weighs about 1.30 kg a litre (ICUMSA SPS-4): 600 mg/kg is 0.78 g a litre,
    # past 500 mg/kg of sorbic acid (Codex GSFA 14.1.4) read as of a litre.
    maker.up_to("ask_sorbate")
    maker.reads("sorbate", dose, unit)
    assert maker.ids() == ["limit"]
    assert maker.batch.total("sorbate") == 0


# The pH that counts is the finished one.


def test_a_ph_read_before_anything_is_in_the_pan_earns_no_days(maker: Maker) -> None:
    maker.reads("ph", 3.0, "pH")
    maker.up_to_bottle_unmeasured()
    assert (keeping(maker.batch).days or 0) <= 3


def test_a_ph_read_before_water_went_in_is_stale(maker: Maker) -> None:
    maker.up_to("bottle")
    before = keeping(maker.batch).days or 0
    maker.reads("water", 500, "ml")
    assert says(maker, "ph_stale_by")
    assert (keeping(maker.batch).days or 0) <= 3 < before
    maker.reads("ph", 3.5, "pH")
    assert not says(maker, "ph_stale_by")
    assert (keeping(maker.batch).days or 0) > 3


def test_four_point_six_is_low_in_acid(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.6, "pH")
    assert maker.batch.stopped_by == "ph-acid-food"


def test_above_four_the_instrument_is_asked_and_strips_get_their_doubt(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.2, "pH")
    assert says(maker, "ph_instrument")
    untold = keeping(maker.batch).days or 0
    maker.does("choose", option="ph_by", value="meter")
    by_meter = keeping(maker.batch).days or 0
    maker.does("choose", option="ph_by", value="strips")
    by_strips = keeping(maker.batch).days or 0
    assert untold == by_strips < by_meter


# Not measuring never pays.


def test_an_unknown_ph_earns_no_more_than_a_low_acid_batch() -> None:
    unmeasured = Maker().up_to_bottle_unmeasured().batch
    low = Maker("nut-syrup").batch
    assert (keeping(unmeasured).days or 0) <= 3
    assert (keeping(low).days or 0) <= 3


def test_undo_does_not_lift_a_ph_stop(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.9, "pH")
    maker.does("undo")
    assert maker.batch.stopped_by == "ph-acid-food"
    maker.done()
    maker.done()
    assert maker.stage == "ph"


def test_a_drop_that_the_acid_cannot_explain_is_asked(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.9, "pH")
    maker.reads("citric_acid", 0.1, "g")
    maker.reads("ph", 3.4, "pH")
    assert says(maker, "ph_unexplained")
    assert maker.batch.stopped_by == "ph-acid-food"
    least = next(line for line in maker.reply.lines if line.id == "ph_unexplained").facts["least"]
    assert least.value > 2  # type: ignore[union-attr]


def test_a_drop_that_nothing_explains_earns_no_days_however_often_it_is_read(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.9, "pH")
    for _ in range(4):
        maker.reads("ph", 3.4, "pH")
        assert (keeping(maker.batch).days or 0) <= 3
    assert maker.batch.stopped_by is None
    maker.surely("reading", what="citric_acid", value=90, unit="g")
    maker.reads("ph", 3.4, "pH")
    assert (keeping(maker.batch).days or 0) > 3


def test_that_a_drop_is_not_explained_is_said(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.9, "pH")
    maker.reads("ph", 3.4, "pH")
    maker.reads("ph", 3.4, "pH")
    assert says(maker, "ph_disbelieved")


# A hold that nobody watched does not count.


@pytest.mark.parametrize("silence", [130, 3600, 86_400])
def test_one_silence_completes_no_hold(maker: Maker, silence: float) -> None:
    maker.up_to("hold")
    maker.degrees(77, silence)
    assert maker.stage == "hold"
    maker.degrees(77, 45)
    assert maker.stage == "hold"
    maker.degrees(77, 46)
    assert maker.stage == "steep"


def test_sugar_after_the_hold_is_not_called_held(maker: Maker) -> None:
    maker.up_to("bottle")
    assert keeping(maker.batch).days is not None
    assert all("hold was completed" not in reason for reason in keeping(maker.batch).reason)


# A refused fruit stays refused.


def test_a_refused_fruit_stays_refused(maker: Maker) -> None:
    maker.does("choose", option="fruit", value="peach-white-flesh")
    assert says(maker, "fruit_low_acid")
    maker.reads("fruit", 1, "kg")
    assert says(maker, "fruit_low_acid")
    assert maker.stage == "weigh"
    maker.does("choose", option="fruit", value="raspberry")
    maker.reads("fruit", 1, "kg")
    assert maker.stage == "crush"


@pytest.mark.parametrize("fruit", ["fig", "elderberry-american-black"])
def test_a_fruit_named_late_changes_class_and_dates(fruit: str) -> None:
    maker = Maker()
    maker.reads("fruit", 2.4, "kg")
    maker.does("choose", option="fruit", value=fruit)
    assert maker.batch.fruit == fruit
    assert says(maker, "fruit_low_acid_late")
    assert (keeping(maker.batch).days or 0) <= 3


# After bottling nothing lengthens a date.


@pytest.mark.parametrize(
    "act",
    [
        lambda maker: maker.reads("ph", 2.6, "pH"),
        lambda maker: maker.reads("sorbate", 0.3, "g/l"),
        lambda maker: maker.reads("citric_acid", 5, "g"),
        lambda maker: maker.reads("brix", 70, "Brix"),
        lambda maker: maker.reads("sugar", 900, "g"),
        lambda maker: maker.degrees(78),
    ],
)
def test_after_bottling_nothing_lengthens_a_date(act: object) -> None:
    maker = Maker().up_to("store")
    before = closed_until(maker.batch, maker.now)
    maker.now += timedelta(days=2)
    act(maker)  # type: ignore[operator]
    act(maker)  # type: ignore[operator]
    after = closed_until(maker.batch, maker.now)
    assert before is not None
    assert after is None or after <= before


def test_taking_the_bottles_back_and_filling_them_again_lengthens_no_date() -> None:
    maker = Maker().up_to("store")
    before = closed_until(maker.batch, maker.now)
    maker.now += timedelta(days=9)
    maker.does("undo")
    maker.does("bottle", count=9, size_ml=500)
    after = closed_until(maker.batch, maker.now)
    assert before is not None
    assert after is None or after <= before


# Slips away from their stage.


@pytest.mark.parametrize(
    ("what", "value", "unit"),
    [
        ("citric_acid", 300, "g"),
        ("ascorbic_acid", 100, "g"),
        ("glycerin", 2, "l"),
        ("water", 60, "l"),
        ("sugar", 13, "kg"),
    ],
)
@pytest.mark.parametrize("stage", ["crush", "steep", "ph", "bottle"])
def test_far_too_much_of_anything_is_asked(what: str, value: float, unit: str, stage: str) -> None:
    maker = Maker().up_to(stage)
    before = maker.batch.added
    maker.reads(what, value, unit)
    assert {*maker.ids()} & {"too_much_for_batch", "ask_off_plan", "beyond_reckoning"}
    assert maker.batch.added == before


def journal_of(batch: Batch, maker: Maker) -> list[AnyEvent]:
    assert isinstance(maker.journal[0], Begin)
    assert fold(maker.journal)[0] == batch
    return maker.journal


def test_a_journal_with_a_ph_that_cannot_be_is_folded_without_it(maker: Maker) -> None:
    maker.reads("ph", -3, "pH")
    assert maker.batch.last("ph") is None
    assert maker.now > START
