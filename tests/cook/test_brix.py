"""Brix off the target once the sugar is in: what mends it, and where it may be read."""

import pytest
from batch_maker import Maker

from assistant.calc.sugar import sugar_for_brix
from assistant.cook.stock import syrup
from assistant.recipebook.files import load_recipe, recipe_names


def _need(maker: Maker) -> float:
    (line,) = [line for line in maker.reply.lines if line.rank == "do"]
    return line.facts["need"].value  # type: ignore[union-attr]


def test_too_low_gets_the_sugar_that_mends_it(maker: Maker) -> None:
    maker.up_to("ph").reads("brix", 55, "Brix")
    stock = syrup(maker.batch)
    assert stock is not None
    assert _need(maker) == pytest.approx(sugar_for_brix(stock.mass_g.likely, 55, 62))
    maker.reads("sugar", _need(maker), "g")
    stock = syrup(maker.batch)
    assert stock is not None
    assert stock.brix.low <= 62 + 1.5


def test_too_high_gets_the_water_and_the_water_counts(maker: Maker) -> None:
    maker.up_to("ph").reads("brix", 66, "Brix")
    before = syrup(maker.batch)
    need = _need(maker)
    assert before is not None
    # A syrup of m grams at 66 Brix holds 0.66 m of sugar: 62 Brix are 66/62 m
    assert need == pytest.approx(before.mass_g.likely * 4 / 62)
    maker.reads("water", need, "ml")
    after = syrup(maker.batch)
    assert after is not None
    assert after.mass_g.likely == pytest.approx(before.mass_g.likely + need)


@pytest.mark.parametrize("brix", [61.2, 62.9])
def test_near_the_target_nothing_is_mended(maker: Maker, brix: float) -> None:
    maker.up_to("ph").reads("brix", brix, "Brix")
    assert "brix_near" in maker.ids()


def test_before_the_sugar_it_says_how_much_sugar(maker: Maker) -> None:
    maker.up_to("dissolve").reads("brix", 18, "Brix")
    assert "sugar_by_brix" in maker.ids()


def test_on_arriving_after_the_sugar_it_may_be_read(maker: Maker) -> None:
    maker.up_to("sharpen")
    assert "brix_may_be_read" in maker.ids()


@pytest.mark.parametrize("name", recipe_names())
def test_every_recipe_with_a_target_has_a_place_for_it(name: str) -> None:
    recipe = load_recipe(name)
    if not recipe.targets.brix:
        return
    places = [s for s in recipe.stages if s.kind == "reduce" or s.subject in ("main_sugar", "brix")]
    assert places
    assert recipe.stages.index(places[0]) < [s.kind for s in recipe.stages].index("bottle")
