"""Ingredients: all of them, heaviest first, additives under their category."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from label_maker import AT, bottled

from assistant.cook import Batch
from assistant.cook.batch import Added, Taken
from assistant.cook.stock import juice
from assistant.facts.events import Reading
from assistant.facts.stuff import AMOUNTS, STUFF
from assistant.label.ingredients import (
    STEEPED,
    ingredient_words,
    ingredients,
)
from assistant.recipebook.files import load_recipe

BATCH = bottled()


def _grams(batch: Batch) -> dict[str, float]:
    return {one.name: one.grams for one in ingredients(batch)}


def test_the_tea_huts_syrup() -> None:
    words = ("sugar", "blackcurrant", "water", "acid: citric acid")
    assert ingredient_words(BATCH) == words


def test_every_option_is_named_with_its_category() -> None:
    assert ingredient_words(bottled(True, True, True))[3:] == (
        "humectant: glycerin",
        "acid: citric acid",
        "preservative: potassium sorbate",
        "antioxidant: ascorbic acid",
    )


def test_sugar_is_the_sum_of_both() -> None:
    both = BATCH.total("crushing_sugar") + BATCH.total("main_sugar")
    assert _grams(BATCH)["sugar"] == pytest.approx(both)


def test_mash_and_water_make_the_juice_and_the_pulp() -> None:
    """What went in is in the juice or in the cloth, which keeps half the fruit's weight."""
    grams, stock = _grams(BATCH), juice(BATCH)
    assert stock
    mash = grams["blackcurrant"] + BATCH.total("crushing_sugar") + grams["water"]
    assert mash == pytest.approx(stock.mass_g.likely + 0.5 * 2400)


def test_a_juice_that_ran_off_thick_had_no_water_poured() -> None:
    little = Taken(Reading(at=AT, what="juice", value=1.0, unit="l"), "juice")
    batch = replace(BATCH, taken=(*BATCH.taken, little))
    # the hot water alone: 960 ml at 0.9982 g/ml (ICUMSA SPS-4)
    assert _grams(batch)["water"] == pytest.approx(958.3, abs=0.1)


def _plus(*added: Added) -> Batch:
    return replace(BATCH, added=added)


amounts = st.lists(
    st.builds(
        Added,
        name=st.sampled_from([name for name in AMOUNTS if name != "hot_water"]),
        amount=st.floats(0, 900),
        unit=st.sampled_from(["g", "ml"]),
        at=st.just(AT),
    ),
    max_size=12,
)


@settings(max_examples=40, deadline=None)
@given(amounts)
def test_the_order_is_by_falling_weight_and_each_is_named_once(added: list[Added]) -> None:
    found = ingredients(_plus(*added))
    assert [one.grams for one in found] == sorted((one.grams for one in found), reverse=True)
    assert len({one.name for one in found}) == len(found)
    put_in = {STUFF[AMOUNTS[a.name].of].label for a in added if a.amount > 0}
    assert put_in <= {one.name for one in found}


def test_what_weighs_nothing_is_not_named() -> None:
    none = Added("sorbate", 0.0, "g", AT)
    assert "preservative: potassium sorbate" not in ingredient_words(_plus(none))


def test_a_list_that_can_not_be_whole_says_so() -> None:
    lemon = replace(
        BATCH,
        recipe=load_recipe("citrus-cordial").model_copy(update={"lists_all": False}),
        fruit="lemon",
        taken=(Taken(Reading(at=AT, what="juice", value=1, unit="l"), "measure"),),
    )
    names = ingredient_words(lemon)
    assert "lemon juice" in names
    assert names[-1] == STEEPED
    # USDA SR26 composition puts lemon juice near 8 Brix: about 1.03 g/ml (ICUMSA SPS-4)
    assert _grams(lemon)["lemon juice"] == pytest.approx(1030, abs=10)


def test_water_to_start_from_is_water() -> None:
    plain = replace(
        BATCH,
        recipe=load_recipe("plain-syrup"),
        fruit=None,
        added=(Added("main_sugar", 1000, "g", AT),),
        taken=(Taken(Reading(at=AT, what="water", value=1, unit="l"), "measure"),),
    )
    assert ingredient_words(plain) == ("sugar", "water")
    open_list = plain.recipe.model_copy(update={"lists_all": False})
    told = ingredient_words(replace(plain, recipe=open_list))
    assert told == ("sugar", "water", STEEPED)


def test_nothing_before_anything_was_measured() -> None:
    assert ingredients(replace(BATCH, taken=(), added=())) == ()
