import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc.measures import ITEMS, TSP_PER, g_to_spoon, item_weight, spoon_to_g

items = st.sampled_from(sorted(ITEMS))
spoons = st.sampled_from(list(TSP_PER))


@pytest.mark.parametrize(
    ("item", "measure", "count", "grams", "tolerance"),
    [
        # USDA National Nutrient Database SR26, weights
        ("sugar", "cup", 1, 200, 0.5),
        ("sugar", "tsp", 1, 4.2, 0.1),
        ("icing sugar", "cup", 1, 120, 0.5),
        ("brown sugar", "cup", 1, 220, 0.5),
        ("honey", "cup", 1, 339, 0.5),
        ("honey", "tbsp", 1, 21, 0.3),
        ("maple syrup", "tbsp", 1, 20, 0.4),
        ("salt", "tbsp", 1, 18, 0.1),
        ("salt", "cup", 1, 292, 5),
        ("water", "cup", 1, 237, 0.5),
        ("lemon juice", "cup", 0.5, 122, 0.5),
        ("cider vinegar", "tbsp", 1, 14.9, 0.1),
        ("raspberries", "cup", 2, 246, 0.5),
        ("blackcurrants", "cup", 1, 112, 0.5),
        ("rhubarb", "cup", 1, 122, 0.5),
        ("strawberries", "cup", 1, 144, 0.5),
        # National Center for Home Food Preservation, ascorbic acid: 3 g per teaspoon
        ("ascorbic acid", "tsp", 1, 3, 0.05),
    ],
)
def test_published_weights(item, measure, count, grams, tolerance):
    assert spoon_to_g(item, measure, count).likely == pytest.approx(grams, abs=tolerance)


@pytest.mark.parametrize(
    ("item", "measure", "count", "grams"),
    [
        ("citric acid", "tbsp", 1, 12),  # common practice, no source
        ("potassium sorbate", "tsp", 0.25, 0.7),  # common practice, no source
        ("potassium sorbate", "tsp", 0.25, 1.0),  # common practice, no source
        ("potassium sorbate", "tsp", 1, 2.5),  # from memory: granules 2.5 to 3.5 g
        ("potassium sorbate", "tsp", 1, 3.5),  # from memory
        ("ascorbic acid", "tsp", 1, 5),  # from memory: powders run 4 to 5 g
    ],
)
def test_kitchen_rules_lie_within_the_spread(item, measure, count, grams):
    assert spoon_to_g(item, measure, count).about(grams)


@pytest.mark.parametrize(
    "item", ["citric acid", "ascorbic acid", "potassium sorbate", "sodium benzoate"]
)
def test_what_must_be_right_is_to_be_weighed(item):
    assert item_weight(item).weigh_it


def test_sugar_need_not_be_weighed():
    assert not item_weight("sugar").weigh_it


@given(items, spoons, st.floats(0.01, 100.0))
def test_there_and_back(item, measure, count):
    grams = spoon_to_g(item, measure, count)
    assert g_to_spoon(item, grams.likely, measure).likely == pytest.approx(count)
    assert g_to_spoon(item, grams.low, measure).high == pytest.approx(count)


@given(items, st.floats(0.0, 100.0))
def test_three_teaspoons_are_a_tablespoon(item, count):
    three, one = spoon_to_g(item, "tsp", 3 * count), spoon_to_g(item, "tbsp", count)
    assert three.likely == pytest.approx(one.likely)
    assert three.high == pytest.approx(one.high)


@pytest.mark.parametrize("name", ["Potassium_Sorbate", " sorbate ", "potassium sorbate"])
def test_names_are_forgiving(name):
    assert item_weight(name).item == "potassium sorbate"


def test_every_entry_has_a_source_and_some_spread():
    for entry in ITEMS.values():
        assert entry.source
        assert 0 < entry.grams.low < entry.grams.high


def test_unknown_item_names_the_known_ones():
    with pytest.raises(WrongUse, match="sugar"):
        spoon_to_g("gravel", "tsp")


def test_unknown_measure():
    with pytest.raises(WrongUse, match="tbsp"):
        spoon_to_g("sugar", "bucket")


@pytest.mark.parametrize("bad", [-1.0, 1000.1, math.nan])
def test_impossible_counts(bad):
    with pytest.raises(OutOfRange):
        spoon_to_g("sugar", "tsp", bad)


@pytest.mark.parametrize("bad", [-1.0, 100_001.0, math.nan])
def test_impossible_weights(bad):
    with pytest.raises(OutOfRange):
        g_to_spoon("sugar", bad, "tsp")
