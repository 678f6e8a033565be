import pytest

from assistant.calc.fruits import all_fruits, fruit


@pytest.mark.parametrize(
    ("name", "water", "juice_brix"),
    [
        # USDA National Nutrient Database SR26 (water); 19 CFR 151.91 (average juice Brix)
        ("strawberry", 90.95, 8.0),
        ("raspberry", 85.75, 10.5),
        ("blackcurrant", 81.96, 15.0),
    ],
)
def test_published_composition(name: str, water: float, juice_brix: float) -> None:
    found = fruit(name)
    assert found is not None
    assert (found.water, found.juice_brix) == (water, juice_brix)


@pytest.mark.parametrize("name", list(all_fruits()))
def test_figures_hang_together(name: str) -> None:
    found = all_fruits()[name]
    assert (found.water or 0) + (found.carbohydrate or 0) <= 101
    assert found.brix().low > 0
    if found.ph_low and found.ph_high:
        assert 1.8 < found.ph_low <= found.ph_high < 7


@pytest.mark.parametrize("name", ["fig", "melon-cantaloupe", "ginger", "elderberry-american-black"])
def test_low_acid_fruit_is_marked(name: str) -> None:
    # University of Minnesota Extension (elderberry); FDA/CFSAN Approximate pH of Foods
    assert all_fruits()[name].acidity_class == "low-acid"


def test_unknown_fruit_is_none() -> None:
    assert fruit("moonberry") is None
