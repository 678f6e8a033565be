"""Where two ends are possible the stricter one counts: volumes, doses together, what was held."""

from dataclasses import replace
from datetime import timedelta

import pytest
from batch_maker import Maker

from assistant.calc.preserve_dose import sorbate_dose
from assistant.calc.spread import Spread
from assistant.cook import totals
from assistant.cook.amounts import amount, floored
from assistant.cook.finished_ph import low_in_acid
from assistant.cook.holding import heated
from assistant.cook.keeping import closed_until, keeping
from assistant.cook.stock import syrup
from assistant.cook.totals import in_syrup, least_volume

SORBATE, BENZOATE = 0.6699, 0.2950
"""g of the salt a litre: Codex GSFA 14.1.4, sorbates 500 and benzoates 250 mg/kg as the acid (the
second from memory), over 0.7464 and 0.8475 by atomic weights."""


def _with_a_spread() -> Maker:
    """Twenty kilos, so that the two ends are further apart than a dose is rounded."""
    maker = Maker()
    maker.does("choose", option="fruit", value="blackcurrant")
    maker.reads("fruit", 20, "kg")
    stock = syrup(maker.batch)
    assert stock is not None
    assert stock.volume_ml.low < 0.98 * stock.volume_ml.likely
    return maker


def test_a_preservative_is_held_against_the_least_syrup_there_can_be() -> None:
    batch = _with_a_spread().batch
    stock = syrup(batch)
    assert stock is not None
    assert least_volume(batch) == stock.volume_ml.low
    assert in_syrup(batch, "sorbate", more_g=1.0) == pytest.approx(1000 / stock.volume_ml.low)


def test_a_planned_dose_is_for_the_least_syrup_there_can_be() -> None:
    batch = _with_a_spread().batch
    stock, planned = syrup(batch), amount(batch, "sorbate")
    assert stock is not None
    assert planned is not None
    assert planned.value == floored(sorbate_dose(stock.volume_ml.low / 1000, 3.5).grams)
    assert planned.value < floored(sorbate_dose(stock.volume_ml.likely / 1000, 3.5).grams)


@pytest.mark.parametrize(("share", "stops"), [(0.45, False), (0.55, True)])
def test_two_preservatives_together_use_up_one_ceiling(share: float, stops: bool) -> None:
    maker = Maker().up_to("bottle")
    litres = (least_volume(maker.batch) or 0.0) / 1000
    maker.surely("reading", what="sorbate", value=share * SORBATE * litres, unit="g")
    assert maker.batch.stopped_by is None
    maker.surely("reading", what="benzoate", value=share * BENZOATE * litres, unit="g")
    assert (maker.batch.stopped_by is not None) == stops


def test_what_the_sugar_goes_into_after_the_hold_was_held_in_part() -> None:
    maker = Maker().up_to("dissolve")
    assert heated(maker.batch) == "all"
    maker.done()
    assert maker.batch.addition("main_sugar") is not None
    assert heated(maker.batch) == "part"


@pytest.mark.parametrize(("answer", "litres"), [("yes", 9.0), ("no", None)])
def test_a_juice_that_cannot_be_counts_only_by_a_yes(answer: str, litres: float | None) -> None:
    maker = Maker().up_to("juice")
    maker.reads("juice", 9.0, "l")
    assert maker.batch.held is not None
    maker.does(answer)
    read = maker.batch.last("juice")
    assert (read and read.reading.value) == litres


@pytest.mark.parametrize(("more", "asked"), [(0.9, False), (1.1, True)])
def test_sugar_beside_its_stage_is_asked_about_past_twice_the_plan(
    more: float, asked: bool
) -> None:
    maker = Maker().up_to("heat")
    planned = maker.batch.total("crushing_sugar")
    assert planned > 0
    maker.reads("sugar", more * planned, "g")
    assert (maker.batch.held is not None) == asked


def test_a_high_ph_is_no_leave_to_go_on_without_one() -> None:
    maker = Maker().up_to("ph")
    maker.done()
    assert maker.ids() == ["without_ph"]
    maker.reads("ph", 4.2, "pH")
    maker.done()
    assert (maker.ids(), maker.stage) == (["without_ph"], "ph")


@pytest.mark.parametrize(("share", "enough"), [(0.75, False), (0.85, True)])
def test_a_rest_is_enough_from_four_fifths_on(share: float, enough: bool) -> None:
    maker = Maker().up_to("steep")
    minutes = maker.batch.stage.minutes  # type: ignore[union-attr]
    maker.done(share * minutes * 60)
    assert (maker.stage != "steep") == enough


def test_a_fruit_that_is_low_in_acid_keeps_days_only_whatever_the_recipe_says() -> None:
    batch = Maker().up_to("bottle").batch
    # FDA/CFSAN, Approximate pH of Foods: figs 5.05 to 5.98, blackcurrants are not listed
    figs = replace(batch, fruit="fig")
    assert (low_in_acid(batch), low_in_acid(figs)) == (False, True)
    assert (keeping(figs).days or 0) < (keeping(batch).days or 0)


def test_days_in_the_fridge_are_used_up_before_and_after_the_freezer() -> None:
    maker = Maker().up_to("bottle")
    maker.surely("bottle", count=8, size_ml=500.0)
    days, day = keeping(maker.batch).days or 0, 86_400.0
    maker.does("moved", 4 * day, place="freezer")
    maker.does("moved", 20 * day, place="fridge")
    until = closed_until(maker.batch, maker.now)
    assert days > 5
    assert until == maker.now.date() + timedelta(days=days - 4)


def test_a_dose_is_judged_by_the_little_syrup_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    batch = _with_a_spread().batch
    stock = syrup(batch)
    assert stock is not None
    little = replace(stock, volume_ml=Spread.exactly(17.0))
    monkeypatch.setattr(totals, "syrup", lambda _batch: little)
    reckoned = least_volume.__wrapped__  # type: ignore[attr-defined]
    assert reckoned(batch) == 17.0
