import ast
from pathlib import Path
from typing import get_args

import pytest

import assistant
from assistant.base.units import BASE_UNIT, dimension
from assistant.calc.preserve import CEILINGS
from assistant.calc.preserve_acid import TO_ACID
from assistant.facts.events import What
from assistant.facts.stuff import UNITS
from assistant.limits import ACID_FOOD_PH, MAKERS_PH, Limit, all_limits, is_low_acid, tripped


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_limit_trips_just_past_its_bound_and_not_inside_it(limit: Limit) -> None:
    past = -1e-6 if limit.side == "below" else 1e-6
    assert limit.trips(limit.bound + past)
    assert limit.trips(limit.bound) == (limit.side == "from")
    assert not limit.trips(limit.bound - past)
    found = tripped(limit.quantity, limit.bound + past)
    assert found is not None
    assert found.id == limit.id


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_limit_names_its_source_and_promises_nothing(limit: Limit) -> None:
    assert limit.source
    assert "safe" not in limit.words.lower()
    limit.words.format(value="v", bound="b")


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_a_reading_can_trip_it(limit: Limit) -> None:
    assert limit.quantity in get_args(What)
    assert limit.unit == BASE_UNIT[dimension(UNITS[limit.quantity][0])]


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_limit_is_of_the_right_make(limit: Limit) -> None:
    assert isinstance(limit.bound, float)
    assert limit.side in ("above", "from", "below")
    assert limit.effect in ("stop", "caution")


def test_the_bounds_on_ph_are_the_published_ones() -> None:
    # 21 CFR 114.3; FDA, Juice HACCP Hazards and Controls Guidance, 1st ed. (2004), V.C.5.2
    assert (ACID_FOOD_PH, MAKERS_PH) == (4.6, 4.0)
    assert is_low_acid(4.6)  # the bound itself, for a margin
    assert not is_low_acid(4.59)


def test_the_bound_of_acid_foods_stands_in_no_code() -> None:
    """Whoever needs it asks the limits; the published tables of `checks` keep their own figures."""
    package = Path(assistant.__file__).parent
    own = [
        str(file.relative_to(package))
        for file in sorted(package.rglob("*.py"))
        if file.parent.name != "checks"
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Constant) and node.value == 4.6
    ]
    assert own == []


def test_limit_ids_are_unique() -> None:
    ids = [limit.id for limit in all_limits()]
    assert len(ids) == len(set(ids))


def test_a_stop_outranks_a_caution() -> None:
    # 21 CFR 114.3: above pH 4.6 a food is not an acid food
    assert tripped("ph", 5.2).effect == "stop"  # type: ignore[union-attr]
    assert tripped("ph", 4.3).effect == "caution"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("limit_id", "ceiling_id"),
    [
        ("sorbate-eu-drinks", "eu-drinks-sorbate"),
        ("sorbate-codex-drinks", "codex-drinks-sorbate"),
        ("benzoate-eu-drinks", "eu-drinks-benzoate"),
        ("benzoate-codex-drinks", "codex-drinks-benzoate"),
    ],
)
def test_preservative_bounds_are_those_the_doses_keep_to(limit_id: str, ceiling_id: str) -> None:
    limit = next(limit for limit in all_limits() if limit.id == limit_id)
    ceiling = next(ceiling for ceiling in CEILINGS if ceiling.id == ceiling_id)
    acid_g_l = (ceiling.acid_mg_l(1.0) or 0.0) / 1000
    to_acid = TO_ACID[ceiling.preservative]
    assert limit.bound == pytest.approx(acid_g_l / to_acid, abs=1e-4)


def test_sulphite_bounds_are_sulphur_dioxide_over_the_salt_factor() -> None:
    # SO2 64.064, K2S2O5 222.324 g/mol from standard atomic weights; ceilings from memory
    factor = 2 * 64.064 / 222.324
    bounds = {limit.id: limit.bound for limit in all_limits()}
    assert bounds["sulphite-codex-drinks"] == pytest.approx(0.070 / factor, abs=1e-4)
    assert bounds["sulphite-eu-drinks"] == pytest.approx(0.020 / factor, abs=1e-4)


def test_sorbate_bounds_are_the_acid_ceilings_over_the_salt_factor() -> None:
    # Codex GSFA 14.1.4: 500 mg/kg sorbic acid; factor 112.128/150.218 from atomic weights
    bounds = {limit.id: limit.bound for limit in all_limits()}
    assert bounds["sorbate-codex-drinks"] == pytest.approx(0.500 / (112.128 / 150.218), abs=1e-4)
    # Regulation (EC) 1333/2008 Annex II 14.1.4: 300 mg/l (from memory)
    assert bounds["sorbate-eu-drinks"] == pytest.approx(0.300 / (112.128 / 150.218), abs=1e-4)
