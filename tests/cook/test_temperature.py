"""The thermometer: where a stage waits for it, and what is said of too much heat."""

import pytest
from batch_maker import Maker


def test_hotter_than_it_needs_is_said_once_past_the_bound(maker: Maker) -> None:
    # common practice, no source: above 85 degC flavour and colour go
    maker.up_to("steep")
    maker.degrees(85)
    assert "limit" not in maker.ids()
    maker.degrees(85.5)
    assert "limit" in maker.ids()


@pytest.mark.parametrize("degrees", [86, 92, 101, 104])
def test_a_recipe_that_boils_is_not_told_off_for_heat(degrees: float) -> None:
    maker = Maker("pomegranate-reduction")
    maker.reads("juice", 2, "l")
    maker.degrees(degrees)
    assert "limit" not in maker.ids()
    maker.degrees(106)
    assert "limit" in maker.ids()


def test_a_recipe_without_a_hold_is_warned_as_well() -> None:
    maker = Maker("cold-shrub")
    maker.degrees(90)
    assert "limit" in maker.ids()


def test_a_reading_that_nothing_waits_for_is_kept(maker: Maker) -> None:
    maker.up_to("crush").degrees(18)
    assert (maker.stage, maker.ids()) == ("crush", ["read_back"])
    assert maker.batch.last("temperature") is not None
