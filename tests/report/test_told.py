"""Amounts and spreads as they stand in a report."""

from assistant.calc.spread import Spread
from assistant.report.told import ends, told, told_spread


def test_an_amount_is_told_for_the_eye() -> None:
    assert told(1500, "g") == "1.5 kg"
    assert told(72.0, "degC") == "72 °C"


def test_a_spread_that_is_none_has_no_ends() -> None:
    assert told_spread(Spread.exactly(500), "ml") == "500 ml"
    assert told_spread(Spread(400, 500, 600), "ml") == "500 ml (400–600)"


def test_ends_are_rounded_alike() -> None:
    assert ends(Spread(1.26, 2.0, 3.14159), 2) == {"low": 1.26, "likely": 2.0, "high": 3.14}
