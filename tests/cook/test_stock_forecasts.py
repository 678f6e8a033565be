"""What a batch is reckoned to come to: recipes that start from syrup, acid or unheated fruit."""

import pytest
from batch_maker import Maker

from assistant.calc.density import mass_of_volume
from assistant.cook.stock import juice, syrup


def test_an_acid_solution_weighs_what_went_in() -> None:
    """200 g of citric acid in a kilo of water: 16.7 %, 1.070 g/ml (CRC Handbook, 10 and 20 %)."""
    maker = Maker("citric-solution")
    maker.reads("water", 1, "kg")
    made = syrup(maker.batch)
    assert made is not None
    assert made.mass_g.likely == pytest.approx(1200)
    assert made.volume_ml.likely == pytest.approx(1200 / 1.070, rel=0.006)


def test_a_colour_blend_is_both_syrups() -> None:
    maker = Maker("colour-blend")
    maker.reads("juice", 1, "l")
    both, made = juice(maker.batch), syrup(maker.batch)
    assert both is not None
    assert made is not None
    assert both.brix.likely == pytest.approx(62)
    assert made.volume_ml.likely == pytest.approx(1100, rel=0.001)
    assert made.mass_g.likely == pytest.approx(1.1 * mass_of_volume(1000, 62), rel=0.001)


def test_a_cold_shrub_is_forecast_as_what_runs_off() -> None:
    """Mass balance: a kilo of fruit, 800 g sugar, 500 ml vinegar, half the fruit in the cloth."""
    maker = Maker("cold-shrub")
    maker.reads("fruit", 1, "kg")
    made = juice(maker.batch)
    assert made is not None
    assert made.volume_ml.likely == pytest.approx(1530, rel=0.03)
