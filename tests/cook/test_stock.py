"""What is in the pan, by mass balance."""

import pytest
from batch_maker import Maker

from assistant.cook.stock import bottles_for, juice, made_up_volume, main_sugar, start_mass, syrup


def test_nothing_is_in_the_pan_before_it_is_measured(maker: Maker) -> None:
    assert (juice(maker.batch), main_sugar(maker.batch), syrup(maker.batch)) == (None, None, None)
    assert start_mass(maker.batch) == made_up_volume(maker.batch) == 0


def test_the_solids_of_juice_and_sugar_are_those_of_the_syrup(maker: Maker) -> None:
    """Mass balance: what goes in comes out."""
    maker.up_to("ph")
    stock, made = juice(maker.batch), syrup(maker.batch)
    assert stock is not None
    assert made is not None
    sugar = maker.batch.total("main_sugar")
    solids = stock.mass_g.likely * stock.brix.likely / 100 + sugar
    assert made.mass_g.likely == pytest.approx(stock.mass_g.likely + sugar)
    assert made.mass_g.likely * made.brix.likely / 100 == pytest.approx(solids, rel=1e-3)


def test_a_forecast_is_no_measurement(maker: Maker) -> None:
    forecast = juice(maker.up_to("strain").batch)
    assert forecast is not None
    assert not forecast.measured
    # The recipe makes 1.2 litres of juice up for each kilo of fruit
    assert forecast.volume_ml.likely == pytest.approx(1200 * 2.4)


def test_plain_sugar_and_water_is_what_was_put_together() -> None:
    """A litre of water weighs 998.2 g at 20 degC (ICUMSA SPS-4); the target decides the sugar."""
    maker = Maker("plain-syrup")
    maker.reads("water", 1, "l")
    assert start_mass(maker.batch) == pytest.approx(998.2, abs=0.1)
    sugar, target = main_sugar(maker.batch), maker.batch.recipe.targets.brix
    assert sugar is not None
    stock = juice(maker.batch)
    assert stock is not None
    made = 100 * sugar.likely / (sugar.likely + stock.mass_g.likely)
    assert made == pytest.approx(target, abs=0.01)


def test_the_last_bottle_is_not_full(maker: Maker) -> None:
    stock = syrup(maker.up_to("bottle").batch)
    assert stock is not None
    count = bottles_for(stock)
    assert 500 * (count - 1) < stock.volume_ml.likely <= 500 * count


def test_a_refractometer_after_the_sugar_is_believed(maker: Maker) -> None:
    maker.up_to("ph").reads("brix", 58, "Brix")
    made = syrup(maker.batch)
    assert made is not None
    assert (made.brix.low, made.brix.high) == (58, 58)
