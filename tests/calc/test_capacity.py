import pytest

from assistant.base.errors import OutOfRange
from assistant.base.units import to_base
from assistant.calc.capacity import CAPACITY_ML, Measure, System, unsure_ml


def capacity_ml(measure: Measure, system: System) -> float:
    return CAPACITY_ML[measure][system][0]


@pytest.mark.parametrize(
    ("measure", "system", "ml"),
    [
        # UK Metric Association page: 236.5882365, 284.130625, 227.3045 and 250 ml
        ("cup", "us", 236.5882365),
        ("cup", "imperial", 284.130625),
        ("cup", "old_canadian", 227.3045),
        ("cup", "metric", 250),
        # FDA labelling value
        ("cup", "us_label", 240),
        # NIST, Cooking Measurement Equivalencies
        ("tbsp", "metric", 15),
        ("tsp", "metric", 5),
        # 4.92892159375 exact, US customary teaspoon
        ("tsp", "us", 4.92892159375),
    ],
)
def test_published_capacities(measure: Measure, system: System, ml: float) -> None:
    assert capacity_ml(measure, system) == pytest.approx(ml, abs=0.001)


def test_the_measures_of_a_system_hang_together() -> None:
    # three teaspoons a tablespoon, two cups a pint, by definition
    assert capacity_ml("tbsp", "us") == pytest.approx(3 * capacity_ml("tsp", "us"), abs=1e-3)
    for system in ("us", "imperial"):
        assert capacity_ml("pint", system) == pytest.approx(
            2 * capacity_ml("cup", system), abs=2e-3
        )
    assert capacity_ml("fl_oz", "imperial") == pytest.approx(
        capacity_ml("cup", "imperial") / 10, abs=1e-3
    )


@pytest.mark.parametrize("measure", list(CAPACITY_ML))
def test_the_units_at_the_edge_lie_within_the_systems(measure: Measure) -> None:
    spread = unsure_ml(measure)
    assert spread.low - 0.01 <= to_base(1, measure) <= spread.high + 0.01


def test_a_count_out_of_range_is_refused() -> None:
    with pytest.raises(OutOfRange):
        unsure_ml("cup", -1)
