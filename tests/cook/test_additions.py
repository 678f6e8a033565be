"""Additions that the cook names with an amount."""

import pytest
from batch_maker import Maker


def test_water_by_weight_counts_by_its_density(maker: Maker) -> None:
    maker.up_to("water").reads("water", 950, "g")
    added = maker.batch.addition("hot_water")
    assert added is not None
    # 0.9982 g/ml at 20 degC (ICUMSA SPS-4)
    assert (added.amount, added.unit) == (pytest.approx(951.7, abs=0.1), "ml")


def test_a_spoon_of_sugar_is_weighed_in_the_mind_and_said_to_be_a_guess(maker: Maker) -> None:
    maker.up_to("crush").reads("sugar", 2.5, "cup")
    added = maker.batch.addition("crushing_sugar")
    assert added is not None
    # 200 g a cup (USDA SR26); a cup is 48 teaspoons (NIST)
    assert added.amount == pytest.approx(500)
    assert "by_spoon" in maker.ids()


@pytest.mark.parametrize(("grams", "said"), [(600, False), (460, False), (440, True), (800, True)])
def test_far_from_the_plan_is_remarked_upon(maker: Maker, grams: float, said: bool) -> None:
    # 600 g planned; a quarter off is far off
    maker.up_to("crush").reads("sugar", grams, "g")
    assert ("off_plan" in maker.ids()) is said
    assert maker.stage == "water"


def test_more_of_it_later_is_added_to_what_went_in(maker: Maker) -> None:
    maker.up_to("heat").reads("sugar", 100, "g")
    assert maker.ids()[-1] == "added_too"
    assert maker.batch.total("crushing_sugar") == pytest.approx(700)
    assert maker.stage == "heat"


def test_what_the_recipe_has_not_is_in_the_pan_all_the_same() -> None:
    plain = Maker("cold-shrub")
    plain.reads("fruit", 1, "kg")
    plain.reads("glycerin", 20, "ml")
    assert plain.ids()[-1] == "added_off_recipe"
    assert plain.batch.total("glycerin") == 20


def test_so_much_a_litre_is_no_weight_of_acid(maker: Maker) -> None:
    """Of which litres, the juice's or the syrup's, nobody said."""
    maker.up_to("sharpen").reads("citric_acid", 4, "g/l")
    assert (maker.stage, maker.ids()) == ("sharpen", ["dose_by_weight"])
    assert maker.batch.addition("citric_acid") is None


def test_nothing_goes_in_before_the_fruit_is_weighed(maker: Maker) -> None:
    maker.reads("sugar", 500, "g")
    assert maker.ids()[0] == "base_first"
    assert maker.batch.added == ()
    maker.reads("benzoate", 1, "g")
    assert maker.ids()[0] == "not_in_recipe"
