import pytest

from assistant.calc.preserve import CEILINGS, POTASSIUM_SORBATE_TO_ACID
from assistant.limits import Limit, all_limits, tripped


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_limit_trips_just_past_its_bound_and_not_at_or_inside_it(limit: Limit) -> None:
    past = 1e-6 if limit.side == "above" else -1e-6
    assert limit.trips(limit.bound + past)
    assert not limit.trips(limit.bound)
    assert not limit.trips(limit.bound - past)
    found = tripped(limit.quantity, limit.bound + past)
    assert found is not None
    assert found.id == limit.id


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_limit_names_its_source_and_promises_nothing(limit: Limit) -> None:
    assert limit.source
    assert "safe" not in limit.words.lower()
    limit.words.format(value="v", bound="b")


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
    ],
)
def test_sorbate_bounds_are_those_the_doses_keep_to(limit_id: str, ceiling_id: str) -> None:
    limit = next(limit for limit in all_limits() if limit.id == limit_id)
    ceiling = next(ceiling for ceiling in CEILINGS if ceiling.id == ceiling_id)
    acid_g_l = (ceiling.acid_mg_l(1.0) or 0.0) / 1000
    assert limit.bound == pytest.approx(acid_g_l / POTASSIUM_SORBATE_TO_ACID, abs=1e-4)


def test_sorbate_bounds_are_the_acid_ceilings_over_the_salt_factor() -> None:
    # Codex GSFA 14.1.4: 500 mg/kg sorbic acid; factor 112.128/150.218 from atomic weights
    bounds = {limit.id: limit.bound for limit in all_limits()}
    assert bounds["sorbate-codex-drinks"] == pytest.approx(0.500 / (112.128 / 150.218), abs=1e-4)
    # Regulation (EC) 1333/2008 Annex II 14.1.4: 300 mg/l (from memory)
    assert bounds["sorbate-eu-drinks"] == pytest.approx(0.300 / (112.128 / 150.218), abs=1e-4)
