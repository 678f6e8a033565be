"""Ingredients that a recipe brings along: asked for, weighed, in the balance, on label and list."""

from datetime import date
from typing import Any

import pytest
from batch_maker import Maker
from pydantic import ValidationError

from assistant.cook import Recipe, fold
from assistant.cook.own import before_the_juice
from assistant.cook.recipe_safety import faults
from assistant.cook.stock import alcohol_by_volume, juice, syrup
from assistant.label.allergens import allergen_words, known_allergens
from assistant.label.content import label_text
from assistant.label.ingredients import ingredients
from assistant.planning.shopping import shopping
from assistant.planning.trial import trial_batch
from assistant.recipebook.files import load_recipe
from assistant.report.costs import priced
from assistant.report.recipe_ld import recipe_ld

SOURCE = "common practice, no source"
HONEY = {
    "words": "clear honey", "said": ["honey"], "role": "dissolved", "sugar": 0.82,
    "density": 1.42, "allergens": ["none"], "source": SOURCE,
}  # fmt: skip
GIN = {
    "words": "gin", "role": "spirit", "alcohol": 0.4, "density": 0.948,
    "allergens": ["none"], "source": SOURCE,
}  # fmt: skip


def own(**changes: Any) -> dict[str, Any]:
    """The flower syrup with other ingredients of its own."""
    recipe = load_recipe("flower-herb-syrup").model_dump(mode="json")
    return {**recipe, **changes}


def with_one(key: str, one: dict[str, Any], rule: dict[str, Any], after: str) -> dict[str, Any]:
    """The flower syrup with one ingredient more, added behind a stage."""
    recipe = own()
    recipe["ingredients"][key] = one
    recipe["amounts"][key] = rule
    at = 1 + next(n for n, s in enumerate(recipe["stages"]) if s["id"] == after)
    stage = {"id": f"put-{key}", "kind": "add", "amount": key, "say": "Stir it in.", "why": "So."}
    recipe["stages"] = [*recipe["stages"][:at], stage, *recipe["stages"][at:]]
    return recipe


def nut() -> Maker:
    maker = Maker("nut-syrup")
    maker.reads("water", 1, "l")
    maker.done()  # blanched
    return maker


def test_what_the_stage_asks_for_is_weighed_without_a_name() -> None:
    maker = nut()
    maker.reads("ingredient", 410, "g")
    assert maker.batch.total("almonds") == 410
    assert maker.reply.lines[0].facts["stuff"] == "blanched almonds"
    assert maker.stage == "wait"


def test_done_takes_the_plan() -> None:
    maker = nut()
    maker.done()
    assert maker.batch.total("almonds") == 400


def test_far_off_the_plan_is_asked_about() -> None:
    maker = nut()
    maker.reads("ingredient", 900, "g")
    assert maker.batch.held is not None
    assert maker.batch.total("almonds") == 0
    maker.does("yes")
    assert maker.batch.total("almonds") == 900


def test_what_no_figure_weighs_is_asked_for_in_grams() -> None:
    maker = nut()
    maker.reads("ingredient", 12, "count")
    assert maker.ids() == ["weigh_own"]
    assert maker.batch.total("almonds") == 0


def test_it_is_put_right() -> None:
    maker = nut()
    maker.reads("ingredient", 420, "g")
    maker.does("correct", value=400)
    assert maker.batch.total("almonds") == 400


def test_a_correction_that_names_another_is_not_of_this_one() -> None:
    maker = nut()
    maker.reads("ingredient", 420, "g")
    maker.does("correct", value=300, unit="g", what="ingredient", of="hazelnuts")
    assert maker.batch.total("almonds") == 420


def test_the_mass_balance_counts_what_dissolves_of_it() -> None:
    """1 l of water, 998.2 g (ICUMSA SPS-4), with 7 % of 400 g of almonds: 28 g in 1,026.2 g."""
    maker = nut()
    maker.reads("ingredient", 400, "g")
    stock = juice(maker.batch)
    assert stock is not None
    assert stock.brix.likely == pytest.approx(100 * 28 / 1026.2, abs=0.01)


def test_honey_before_the_sugar_leaves_less_sugar_to_add() -> None:
    recipe = with_one("honey", HONEY, {"rule": "share_of_base", "share": 0.2}, "infuse")
    plain, sweet = (
        trial_batch(Recipe.model_validate(own()), 1000),
        trial_batch(Recipe.model_validate(recipe), 1000),
    )
    sugars = [
        next(i for i in shopping(b) if i.name == "sugar").needed.likely for b in (plain, sweet)
    ]
    # 200 g of honey bring 164 g of sugar and 36 g of water; 15 % of all of it stays in the flowers
    assert sugars[1] < sugars[0]
    made = syrup(sweet)
    assert made is not None
    assert made.brix.likely == pytest.approx(60.0)


def test_spirit_afterwards_thins_the_syrup_and_counts_as_alcohol() -> None:
    """By hand: 250 ml of gin to each litre of syrup at 60 Brix, 1,286.6 g (ICUMSA SPS-4)."""
    recipe = with_one(
        "gin", GIN, {"rule": "per_litre", "of": "syrup", "amount": 250, "unit": "ml"}, "sharpen"
    )
    batch = trial_batch(Recipe.model_validate(recipe), 1000)
    made = syrup(batch)
    assert made is not None
    solids, mass = 0.6 * 1286.6, 1286.6 + 250 * 0.948
    assert made.brix.likely == pytest.approx(100 * solids / mass, rel=0.02)
    assert alcohol_by_volume(batch) == pytest.approx(100 / 1250, rel=0.02)


def test_pieces_are_told_and_weighed_with_their_spread() -> None:
    lemons = {
        "words": "lemons", "role": "extracted", "piece_g": [80, 110, 150], "allergens": ["none"],
        "source": SOURCE,
    }  # fmt: skip
    rule = {"rule": "pieces_per_base", "pieces": 3}
    recipe = with_one("lemons", lemons, rule, "infuse")
    recipe["stages"][2]["say"] = "Slice {lemons_pieces} lemons, {lemons}, into it."
    maker = Maker.of(recipe)
    maker.reads("water", 2, "l")
    maker.done()
    said = maker.reply.lines[-1]
    assert said.facts["lemons_pieces"] == 6
    maker.reads("ingredient", 6, "count")
    assert maker.batch.total("lemons") == 660


def test_flowers_after_the_hold_bring_their_germs_back_and_spirit_counts_as_unheated() -> None:
    from assistant.cook.own import germs

    recipe = with_one("gin", GIN, {"rule": "per_litre", "of": "syrup", "amount": 9, "unit": "ml"},
                      "sharpen")  # fmt: skip
    batch = Maker.of(recipe).batch
    assert germs(batch, {"flowers"}) == "raw"
    assert germs(batch, {"gin"}) == "unheated"
    assert germs(batch, {"sugar"}) == ""


def _bottled(maker: Maker) -> Maker:
    for _ in range(40):
        stage = maker.batch.stage
        if stage is None or stage.kind == "bottle":
            break
        if stage.kind == "measure":
            maker.surely("reading", what=stage.reading, **_given(stage.reading))
        elif stage.kind in ("heat", "hold"):
            maker.degrees(stage.target_c + 1)
        else:
            maker.done(after_s=20_000)
    maker.surely("bottle", count=3, size_ml=500)
    return maker


def _given(what: str) -> dict[str, Any]:
    units = {"juice": (0.85, "l"), "water": (1, "l"), "ph": (3.2, "pH")}
    value, unit = units[what]
    return {"value": value, "unit": unit}


def test_it_is_on_label_list_cost_and_recipe_with_its_allergen() -> None:
    maker = _bottled(nut())
    batch = maker.batch
    names = [one.name for one in ingredients(batch)]
    assert names == ["sugar", "water", "almonds"]
    assert known_allergens(batch) == ("nuts",)
    assert "nuts (almonds)" in allergen_words(batch)
    text = label_text(batch, maker.now.date())
    assert text.ingredients == ("sugar", "water", "almonds")
    assert text.keep_by > date(2026, 7, 11)
    assert priced(batch, {"almonds": 12.0}).cost.lines["almonds"] == pytest.approx(4.8)
    assert "400 g of blanched almonds" in recipe_ld(batch.recipe)["recipeIngredient"]


def test_what_nobody_knows_of_allergens_is_told_apart() -> None:
    maker = Maker("flower-herb-syrup")
    maker.reads("water", 1, "l")
    maker.done()
    assert allergen_words(maker.batch) == "Of flowers or herbs not known. Ask the maker."


def test_a_replay_gives_the_same_state() -> None:
    maker = _bottled(nut())
    again, _ = fold(maker.journal)
    assert again == maker.batch


def test_a_recipe_without_ingredients_says_nothing_of_them() -> None:
    dumped = load_recipe("berry-syrup").model_dump(mode="json")
    assert "ingredients" not in dumped
    assert "lists_all" not in dumped


@pytest.mark.parametrize(
    ("key", "changes", "says"),
    [
        ("honey", {"words": "sodium benzoate"}, "is a preservative"),
        ("honey", {"said": ["e211 sorbate"]}, "pattern"),
        ("honey", {"said": ["potassium sorbate"]}, "is a preservative"),
        ("honey", {"sugar": 0.9, "acid": 0.2}, "more than all"),
        ("honey", {"allergens": ["none", "nuts"]}, "alone"),
        ("honey", {"allergens": ["pollen"]}, "allergens"),
        ("honey", {"role": "spirit"}, "alcohol and density"),
        ("honey", {"piece_g": [3, 2, 1]}, "from the least"),
        ("honey", {"said": ["flowers"]}, "two things"),
        ("honey", {"said": ["water"]}, "two things"),
        ("sugar", {}, "an amount of its own"),
    ],
)
def test_a_bad_ingredient_is_refused(key: str, changes: dict[str, Any], says: str) -> None:
    rule = {"rule": "share_of_base", "share": 0.2}
    recipe = with_one(key, {**HONEY, **changes}, rule, "infuse")
    with pytest.raises(ValidationError, match=says):
        Recipe.model_validate(recipe)


@pytest.mark.parametrize(
    ("rule", "says"),
    [
        ({"rule": "pieces_per_base", "pieces": 3}, "needs piece_g"),
        ({"rule": "per_litre", "of": "juice", "amount": 3}, "use share_of_base"),
        ({"rule": "sugar_to_target"}, "needs a share_of_base"),
    ],
)
def test_a_rule_that_can_not_be_is_refused(rule: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        Recipe.model_validate(with_one("honey", HONEY, rule, "infuse"))


def test_more_than_its_most_is_a_fault() -> None:
    rule = {"rule": "share_of_base", "share": 0.2}
    recipe = with_one("honey", {**HONEY, "per_litre_most": 100}, rule, "infuse")
    assert any("amounts.honey" in fault for fault in faults(Recipe.model_validate(recipe)))


def test_what_goes_in_before_the_juice_is_told_from_what_comes_later() -> None:
    recipe = with_one("gin", GIN, {"rule": "per_litre", "of": "syrup", "amount": 9, "unit": "ml"},
                      "sharpen")  # fmt: skip
    assert before_the_juice(Recipe.model_validate(recipe)) == {"flowers"}
