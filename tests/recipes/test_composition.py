"""Every recipe makes what its file says, by a second reckoning that shares no code with ours."""

import ast
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.cook import Batch, begin, step
from assistant.cook.stock import juice, main_sugar, syrup
from assistant.facts.events import RULES, Begin, Choose, Reading
from assistant.recipebook.files import load_recipe, recipe_names
from tests.recipes import composition
from tests.recipes.composition import Made, read

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
NEAR = 0.02
"""So far apart two reckonings of the same recipe may be: tables, roundings. [-]"""


def begun(name: str) -> Batch:
    recipe = load_recipe(name)
    card = recipe.model_dump(mode="json")
    batch, _ = begin(Begin(at=AT, batch="b", recipe=card, rules=RULES))
    if recipe.fruits:
        batch, _ = step(batch, Choose(at=AT, option="fruit", value=recipe.fruits[0]))
    unit = "g" if recipe.base == "fruit" else "ml"
    return step(batch, Reading(at=AT, what=recipe.base, value=1000.0, unit=unit))[0]


@pytest.fixture(params=recipe_names())
def both(request: pytest.FixtureRequest) -> tuple[Batch, Made]:
    return begun(request.param), composition.composition(read(request.param), 1000.0)


def test_the_juice_is_as_heavy_and_as_sweet(both: tuple[Batch, Made]) -> None:
    batch, made = both
    stock = juice(batch)
    assert stock is not None
    assert stock.mass_g.likely == pytest.approx(made.juice.mass, rel=NEAR)
    assert stock.brix.likely == pytest.approx(made.juice.brix, rel=NEAR, abs=0.2)
    assert stock.volume_ml.likely == pytest.approx(made.juice.ml, rel=NEAR)


def test_it_takes_as_much_sugar(both: tuple[Batch, Made]) -> None:
    batch, made = both
    sugar = main_sugar(batch)
    assert sugar is not None
    assert sugar.likely == pytest.approx(made.sugar, rel=NEAR, abs=1.0)


def test_the_syrup_is_as_heavy_as_sweet_and_as_much(both: tuple[Batch, Made]) -> None:
    batch, made = both
    stock = syrup(batch)
    assert stock is not None
    assert stock.mass_g.likely == pytest.approx(made.syrup.mass, rel=NEAR)
    assert stock.volume_ml.likely == pytest.approx(made.syrup.ml, rel=NEAR)
    if batch.recipe.targets.brix:  # 0 for a solution without sugar, whose Brix means nothing
        assert stock.brix.likely == pytest.approx(made.syrup.brix, rel=NEAR, abs=0.2)


def test_what_is_boiled_down_has_its_target_inside_its_own_spread() -> None:
    stock = syrup(begun("pomegranate-reduction"))
    assert stock is not None
    assert stock.brix.low < 66.0 < stock.brix.high
    assert stock.mass_g.low == stock.mass_g.high


def test_a_brix_read_before_the_boiling_is_the_juices() -> None:
    batch = begun("pomegranate-reduction")
    batch, _ = step(batch, Reading(at=AT, what="brix", value=14.0, unit="Brix"))
    stock, made = juice(batch), syrup(batch)
    assert stock is not None
    assert made is not None
    assert stock.brix.likely == 14.0
    assert made.brix.likely == pytest.approx(14.0 / 0.243, rel=0.01)


def test_it_ends_near_its_target(both: tuple[Batch, Made]) -> None:
    batch, made = both
    spirit = made.syrup.spirit_g > 0
    target = batch.recipe.targets.brix
    if target and not spirit:
        assert made.syrup.brix == pytest.approx(target, rel=NEAR)


def test_the_second_reckoning_imports_nothing_of_ours() -> None:
    tree = ast.parse(Path(composition.__file__).read_text("utf-8"))
    names = {
        name.name if isinstance(node, ast.Import) else str(node.module)
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in node.names
    }
    assert not [name for name in names if name.startswith("assistant")]


def test_every_recipe_is_reckoned() -> None:
    assert composition.names() == sorted(recipe_names())
