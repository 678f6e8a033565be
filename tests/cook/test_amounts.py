"""How much goes in, by the rules a recipe can name."""

import pytest
from batch_maker import Maker

from assistant.calc.spread import Spread
from assistant.cook.amounts import amount, quantity
from assistant.cook.stock import syrup

SORBIC_SHARE = 112.128 / 150.218
"""Sorbic acid in potassium sorbate, from standard atomic weights."""


def test_a_share_of_the_base_needs_the_base(maker: Maker) -> None:
    assert amount(maker.batch, "crushing_sugar") is None
    maker.reads("fruit", 1.6, "kg")
    found = amount(maker.batch, "crushing_sugar")
    assert found is not None
    # The recipe's own ratio: a quarter of the fruit
    assert (found.value, found.unit) == (pytest.approx(400), "g")


def test_so_much_a_litre_follows_the_juice(maker: Maker) -> None:
    maker.up_to("juice").reads("juice", 2.5, "l")
    found = amount(maker.batch, "citric_acid")
    assert found is not None
    # The recipe's own ratio: 4 g a litre of juice
    assert found.value == pytest.approx(10.0)


def test_an_amount_that_the_recipe_has_not_is_none(maker: Maker) -> None:
    assert amount(maker.up_to("heat").batch, "gum_arabic") is None


@pytest.mark.parametrize("grams", range(650, 9000, 370))
def test_the_sorbate_planned_passes_no_ceiling_however_little_syrup_there_is(grams: float) -> None:
    """Regulation (EC) 1333/2008, Annex II, 14.1.4: 300 mg/l as sorbic acid (from memory)."""
    maker = Maker()
    maker.reads("fruit", grams, "g")
    planned, stock = amount(maker.batch, "sorbate"), syrup(maker.batch)
    assert planned is not None
    assert stock is not None
    least_litres = stock.volume_ml.low / 1000
    assert planned.value * SORBIC_SHARE / least_litres <= 0.300


def test_a_dose_is_still_told_where_the_ph_is_too_high(maker: Maker) -> None:
    """The batch waits for acid by then; the dose that is told is that of the bound."""
    maker.up_to("ph")
    maker.reads("ph", 4.5, "pH")
    near = amount(maker.batch, "sorbate")
    maker.reads("ph", 5.5, "pH")
    assert amount(maker.batch, "sorbate") == near


@pytest.mark.parametrize(
    ("spread", "told"),
    [
        (Spread(95.0, 100.0, 105.0), (95.0, 105.0)),
        (Spread(98.0, 100.0, 102.0), (None, None)),
        (Spread.exactly(100.0), (None, None)),
    ],
)
def test_the_ends_are_told_where_they_differ_enough_to_matter(
    spread: Spread, told: tuple[float | None, float | None]
) -> None:
    found = quantity(spread, "g")
    assert (found.value, (found.low, found.high)) == (100.0, told)
