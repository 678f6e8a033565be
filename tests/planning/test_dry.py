"""A dry batch goes as planned to its end; the pH it counts on is reckoned."""

import pytest

from assistant.calc.acid import of_grams, ph_of
from assistant.cook.keeping import keeping
from assistant.cook.ph_forecast import forecast_ph
from assistant.planning.dry import dry_batch
from assistant.planning.trial import trial_batch
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report.dry import dry_lines, dry_record, sugar_g_100_ml

SOUR = [name for name in recipe_names() if load_recipe(name).acidity in ("soured",)]


@pytest.mark.parametrize("name", recipe_names())
def test_every_recipe_is_walked_dry_to_its_end(name: str) -> None:
    batch = dry_batch(load_recipe(name))
    assert batch.ended == "finished", batch.stage
    assert batch.skipped == frozenset()
    assert keeping(batch).days
    told = "\n".join(dry_lines(batch))
    assert "outside" not in told or name == "flower-herb-syrup"
    assert dry_record(batch)["stands_at"] is None


def test_acid_in_water_is_forecast_by_the_charge_balance() -> None:
    batch = trial_batch(load_recipe("lactic-solution"), 1000)
    expected = forecast_ph(batch)
    # 100 g of the acid in 1.09 l (see `calc.acid` for the source of its constants)
    alone = ph_of(of_grams(lactic=100 / 1.09))
    assert expected is not None
    assert expected.low < alone < expected.high
    assert expected.likely == pytest.approx(alone, abs=0.1)


def test_more_acid_is_forecast_sourer_and_none_not_at_all() -> None:
    recipe = load_recipe("elderflower-syrup")
    body = recipe.model_dump(mode="json")
    body["amounts"]["citric_acid"]["share"] = 0.005
    less = forecast_ph(trial_batch(type(recipe).model_validate(body), 1000))
    more = forecast_ph(trial_batch(recipe, 1000))
    assert less is not None
    assert more is not None
    assert more.likely < less.likely
    assert forecast_ph(trial_batch(load_recipe("coffee-syrup"), 1000)) is None


@pytest.mark.parametrize("name", SOUR)
def test_what_is_soured_has_acid_to_spare(name: str) -> None:
    """What was steeped takes up acid: half a unit under where makers stay is wanted at least."""
    expected = forecast_ph(dry_batch(load_recipe(name)))
    assert expected is not None
    assert expected.high < 3.5


def test_sugar_is_told_for_a_hundred_ml() -> None:
    # 60 Brix at 20 degC: 1.2866 g/ml, ICUMSA SPS-4 (1994), so 77.2 g in 100 ml
    batch = dry_batch(load_recipe("grape-syrup"))
    assert sugar_g_100_ml(batch) == pytest.approx(62 * 1.2984, rel=0.002)
