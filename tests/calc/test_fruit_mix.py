import pytest

from assistant.calc.acid_fit import fruit_acidity
from assistant.calc.fruit_mix import mixed
from assistant.calc.fruits import fruit


def test_solids_and_water_are_by_mass() -> None:
    # strawberry 90.95 g of water and 8.0 Brix, raspberry 85.75 and 10.5:
    # USDA SR26 (water), 19 CFR 151.91 (Brix). Three parts to one, by hand:
    # liquor 0.75 * 90.95 / 0.92 + 0.25 * 85.75 / 0.895 = 98.096
    # solids 0.08 * 74.144 + 0.105 * 23.952 = 8.446
    found = mixed({"strawberry": 750, "raspberry": 250})
    assert found is not None
    assert found.water == pytest.approx(0.75 * 90.95 + 0.25 * 85.75)
    assert found.brix().likely == pytest.approx(100 * 8.446 / 98.096, abs=0.01)
    assert found.brix().low < found.brix().likely < found.brix().high


def test_acid_is_by_mass_as_that_of_which_there_is_most() -> None:
    # blackcurrant 2.6, redcurrant 2.3 g/100 g of citric acid: Belitz, Grosch & Schieberle,
    # Food Chemistry, table 18.3
    found = mixed({"blackcurrant": 500, "redcurrant": 500})
    assert found is not None
    assert (found.acidity, found.main_acid) == (pytest.approx(2.45), "citric")
    one, _ = fruit_acidity("blackcurrant")
    other, _ = fruit_acidity("redcurrant")
    assert fruit_acidity(found)[0].likely == pytest.approx((one.likely + other.likely) / 2)


def test_malic_acid_counts_by_what_it_neutralises() -> None:
    # sour cherry 1.8 g of malic, redcurrant 2.3 g of citric acid: same table; equivalents of
    # 67.05 and 64.04 g (IUPAC atomic weights)
    found = mixed({"sour-cherry": 500, "redcurrant": 500})
    assert found is not None
    as_citric = (1.8 * 64.04 / 67.05 + 2.3) / 2
    assert (found.acidity, found.main_acid) == (pytest.approx(as_citric, abs=0.01), "citric")


@pytest.mark.parametrize(
    ("parts", "nature"),
    [
        ({"raspberry": 900, "strawberry": 100}, "acid"),
        ({"raspberry": 900, "blackberry": 100}, "borderline"),
        ({"raspberry": 999, "fig": 1}, "low-acid"),  # FDA, Approximate pH of Foods: 5.05 to 5.98
    ],
)
def test_the_least_sour_gives_the_class(parts: dict[str, float], nature: str) -> None:
    found = mixed(parts)
    assert found is not None
    assert found.acidity_class == nature


def test_the_ph_is_that_of_all_of_them() -> None:
    # FDA/CFSAN, Approximate pH of Foods: raspberry 3.22 to 3.95, blackberry 3.85 to 4.50
    found = mixed({"raspberry": 500, "blackberry": 500})
    assert found is not None
    assert (found.ph_low, found.ph_high) == (3.22, 4.50)


def test_a_missing_figure_is_missing_in_the_whole() -> None:
    found = mixed({"raspberry": 500, "rosehip": 500})
    assert found is not None
    assert (found.acidity, found.ph_high) == (None, None)
    assert mixed({"raspberry": 500, "moonberry": 500}) is None


def test_one_fruit_is_itself() -> None:
    alone, found = fruit("gooseberry"), mixed({"gooseberry": 250})
    assert found is not None
    assert alone is not None
    assert found.brix().likely == pytest.approx(alone.brix().likely)
    assert found.acidity == pytest.approx(alone.acidity)
