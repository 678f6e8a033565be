"""Reducing: weighed down to a share of what it was."""

import pytest
from batch_maker import Maker


@pytest.fixture
def pan() -> Maker:
    """Two kilos of juice, boiling down to 0.243 of that: 486 g."""
    maker = Maker("pomegranate-reduction")
    maker.reads("juice", 2, "kg")
    maker.degrees(91)
    for _ in range(4):
        maker.degrees(91, 100)
    assert maker.stage == "boil_down"
    return maker


@pytest.mark.parametrize(("grams", "there"), [(500, False), (485, True), (400, True)])
def test_light_enough_goes_on(pan: Maker, grams: float, there: bool) -> None:
    pan.reads("yield", grams, "g")
    assert (pan.stage != "boil_down") is there


def test_what_is_left_to_boil_off_is_told(pan: Maker) -> None:
    pan.reads("yield", 700, "g")
    line = pan.reply.lines[1]
    assert (line.id, line.facts["left"].value) == ("to_reduce", pytest.approx(214))  # type: ignore[union-attr]


def test_a_volume_tells_nothing(pan: Maker) -> None:
    pan.reads("yield", 500, "ml")
    assert pan.ids() == ["weigh_reduction"]
    assert pan.batch.last("yield") is None


def test_going_on_unweighed_has_its_price(pan: Maker) -> None:
    pan.done()
    assert (pan.stage, pan.ids()) == ("boil_down", ["without_weighing"])
    pan.done()
    assert "boil_down" in pan.batch.skipped
