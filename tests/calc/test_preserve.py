"""Preservatives: doses, ceilings, slipped decimals, spirits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc import preserve as p

VOLUMES = st.floats(0.05, 1000)
PHS = st.floats(1.5, 4.6)


@pytest.mark.parametrize(
    ("pka", "ph", "percent"),
    [  # worked by hand from 1/(1+10^(pH-pKa)); pKa as in the module
        (4.76, 3.0, 98.3),
        (4.76, 3.5, 94.8),
        (4.76, 4.0, 85.2),
        (4.76, 4.6, 59.1),
        (4.204, 3.0, 94.1),
        (4.204, 3.5, 83.5),
        (4.204, 4.0, 61.5),
        (4.204, 4.6, 28.7),
    ],
)
def test_undissociated_share(pka: float, ph: float, percent: float) -> None:
    assert 100 * p.undissociated_share(ph, pka) == pytest.approx(percent, abs=0.05)


def test_half_is_whole_at_the_pka() -> None:
    assert p.undissociated_share(4.76, 4.76) == 0.5


def test_salt_to_acid_from_atomic_weights() -> None:
    """IUPAC abridged standard atomic weights: C 12.011, H 1.008, O 15.999, K 39.098, Na 22.990."""
    c, h, o, k, na = 12.011, 1.008, 15.999, 39.098, 22.990
    sorbic = 6 * c + 8 * h + 2 * o
    benzoic = 7 * c + 6 * h + 2 * o
    assert pytest.approx(sorbic / (sorbic - h + k), abs=1e-4) == p.POTASSIUM_SORBATE_TO_ACID
    assert pytest.approx(benzoic / (benzoic - h + na), abs=1e-4) == p.SODIUM_BENZOATE_TO_ACID


@pytest.mark.parametrize(
    ("region", "ceiling", "most_mg_l"),
    [
        ("strictest", "eu-drinks-sorbate", 300),
        ("eu", "eu-drinks-sorbate", 300),
        ("codex", "codex-drinks-sorbate", 500),  # Codex GSFA 14.1.4, sorbates
        ("us", "eu-drinks-sorbate", 300),  # 21 CFR 182.3089: no number, so the strictest
    ],
)
def test_sorbate_dose_by_region(region: str, ceiling: str, most_mg_l: float) -> None:
    dose = p.sorbate_dose(10, 3.2, region)
    assert dose.ceiling.id == ceiling
    assert dose.ceiling_mg_l == most_mg_l
    assert most_mg_l - 1 < dose.acid_mg_l <= most_mg_l


def test_default_is_four_tenths_of_a_gram_a_litre() -> None:
    assert p.sorbate_dose(100, 3.2).g_per_l == pytest.approx(0.4019, abs=1e-4)


@given(VOLUMES, PHS, st.sampled_from(["strictest", "eu", "codex", "us"]), st.booleans())
def test_no_dose_passes_its_ceiling(volume: float, ph: float, region: str, mixed: bool) -> None:
    for dose_of in (p.sorbate_dose, p.benzoate_dose):
        dose = dose_of(volume, ph, region, mixed=mixed)
        assert dose.acid_mg_l <= dose.ceiling_mg_l * (1 + 1e-9)
        assert 0 <= dose.effective_mg_l < dose.acid_mg_l or dose.grams == 0
        assert math.isfinite(dose.g_per_l)


@given(VOLUMES, PHS)
def test_default_dose_is_under_every_ceiling_for_drinks(volume: float, ph: float) -> None:
    for kind, dose in (
        ("sorbate", p.sorbate_dose(volume, ph)),
        ("benzoate", p.benzoate_dose(volume, ph)),
    ):
        for ceiling in p.CEILINGS:
            if ceiling.preservative == kind and ceiling.food in (p.DRINKS, "any"):
                most = ceiling.acid_mg_l()
                assert most is None or dose.acid_mg_l <= most * (1 + 1e-9)


@given(VOLUMES, PHS, PHS)
def test_less_works_at_a_higher_ph(volume: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    at = [p.sorbate_dose(volume, ph).effective_mg_l for ph in (low, high)]
    assert at[0] >= at[1]


@pytest.mark.parametrize("volume", [0.04, 1001, -1, math.nan, math.inf])
def test_volume_out_of_range(volume: float) -> None:
    with pytest.raises(OutOfRange, match="volume"):
        p.sorbate_dose(volume, 3.2)


@pytest.mark.parametrize("ph", [1.4, 4.61, 7.0, math.nan])
def test_no_dose_for_a_low_acid_syrup(ph: float) -> None:
    """21 CFR 114.3: above pH 4.6 a food is low-acid."""
    with pytest.raises(OutOfRange, match="pH"):
        p.sorbate_dose(1, ph)


@pytest.mark.parametrize(("ph", "weak"), [(4.5, False), (4.51, True), (4.6, True)])
def test_says_when_it_is_weak(ph: float, weak: bool) -> None:
    assert any("Weak here" in c for c in p.sorbate_dose(1, ph).cautions) is weak


def test_every_dose_says_it_rescues_nothing_and_names_an_unchecked_ceiling() -> None:
    cautions = p.sorbate_dose(1, 3.2).cautions
    assert p.NO_RESCUE in cautions
    assert any("1333/2008" in c and "from memory" in c for c in cautions)


def test_salt_goes_in_before_acid() -> None:
    steps = p.sorbate_dose(1, 3.2).steps
    water = next(i for i, s in enumerate(steps) if "water" in s)
    acid = next(i for i, s in enumerate(steps) if s.startswith("Only then add acid"))
    assert water < acid


def test_benzoate_always_warns_of_vitamin_c() -> None:
    assert p.benzoate_dose(1, 3.2).cautions[0] == p.BENZENE


def test_us_benzoate_is_counted_as_the_salt() -> None:
    """21 CFR 184.1733(d): 0.1 percent sodium benzoate."""
    assert p.benzoate_dose(10, 3.0, "us").g_per_l == pytest.approx(1.0, abs=0.001)


def test_denser_syrup_may_have_more_where_the_rule_is_per_kilogram() -> None:
    light, dense = (p.sorbate_dose(10, 3.2, "codex", density_kg_l=d) for d in (1.0, 1.3))
    assert dense.grams / light.grams == pytest.approx(1.3, abs=0.01)
    eu = [p.sorbate_dose(10, 3.2, "eu", density_kg_l=d).grams for d in (1.0, 1.3)]
    assert eu[0] == eu[1]


@pytest.mark.parametrize(("region", "food"), [("mars", p.DRINKS), ("eu", p.TABLE_SYRUPS)])
def test_unknown_rule_is_refused(region: str, food: str) -> None:
    with pytest.raises(WrongUse):
        p.sorbate_dose(1, 3.2, region, food)


@pytest.mark.parametrize(
    ("g_per_l", "kind"),
    [
        (0.0075, "hundredth"),
        (0.04, "tenth"),
        (0.075, "tenth"),
        (0.1, "tenth"),
        (0.2, "weak"),
        (0.335, None),
        (0.4, None),
        (0.402, None),
        (0.404, "over"),
        (0.75, "over"),
        (2.0, "over"),
        (4.0, "tenfold"),
        (7.5, "tenfold"),
        (75, "hundredfold"),
    ],
)
def test_sorbate_slip(g_per_l: float, kind: str | None) -> None:
    slip = p.sorbate_slip(g_per_l)
    assert (slip and slip.kind) == kind


def test_slip_names_the_rule_that_is_passed() -> None:
    codex, eu = (p.strictest("sorbate", r) for r in ("codex", "eu"))
    between = p.sorbate_slip(0.6, codex, eu)
    assert between is not None
    assert between.over == (eu,)
    assert "448 mg" in between.words
    both = p.sorbate_slip(7.5, codex, eu)
    assert both is not None
    assert both.kind == "tenfold"
    assert both.over == (codex, eu)


@given(VOLUMES, PHS)
def test_a_dose_given_here_is_no_slip(volume: float, ph: float) -> None:
    assert p.sorbate_slip(p.sorbate_dose(volume, ph).g_per_l) is None
    assert p.benzoate_slip(p.benzoate_dose(volume, ph).g_per_l) is None


@given(VOLUMES, PHS)
def test_rounding_down_costs_little(volume: float, ph: float) -> None:
    for dose in (p.sorbate_dose(volume, ph), p.benzoate_dose(volume, ph)):
        assert dose.acid_mg_l >= 0.85 * dose.ceiling_mg_l


def test_little_comes_from_a_stock_solution() -> None:
    """0.2 l * 0.4019 g/l = 0.080 g, at 0.1 g in a ml 0.80 ml."""
    assert any("0.80 ml of that" in c for c in p.sorbate_dose(0.2, 3.2).cautions)
    assert not any("syringe" in c for c in p.sorbate_dose(20, 3.2).cautions)


@pytest.mark.parametrize("g_per_l", [0, -0.1, 1001, math.nan])
def test_slip_out_of_range(g_per_l: float) -> None:
    with pytest.raises(OutOfRange):
        p.sorbate_slip(g_per_l)


@pytest.mark.parametrize(
    ("g_per_l", "kind"),
    [(0.015, "tenth"), (0.15, None), (0.176, None), (0.18, "over"), (1.76, "tenfold")],
)
def test_benzoate_slip(g_per_l: float, kind: str | None) -> None:
    slip = p.benzoate_slip(g_per_l)
    assert (slip and slip.kind) == kind


@given(st.floats(0, 2), st.floats(0, 2))
def test_together_is_never_looser_than_each_alone(sorbate: float, benzoate: float) -> None:
    if p.together(sorbate, benzoate).allowed:
        assert sorbate == 0 or not (p.sorbate_slip(sorbate) or _NOTHING).over
        assert benzoate == 0 or not (p.benzoate_slip(benzoate) or _NOTHING).over


_NOTHING = p.Slip("none", 0, "")


def test_full_dose_of_both_is_too_much() -> None:
    sorbate, benzoate = p.sorbate_dose(10, 3.2).g_per_l, p.benzoate_dose(10, 3.2).g_per_l
    assert p.together(sorbate, 0).allowed
    assert p.together(0, benzoate).allowed
    assert not p.together(sorbate, benzoate).allowed
    assert "too much" in p.together(sorbate, benzoate).words


@pytest.mark.parametrize(
    ("sucrose", "percent"),
    [(0, 0.15), (10, 0.15), (40, 0.10), (60, 0.08)],
)
def test_sorbic_solubility(sucrose: float, percent: float) -> None:
    """Smith & Hong-Shum (eds), Food Additives Data Book: sorbic acid at 20 degC."""
    assert p.sorbic_solubility(sucrose) == pytest.approx(percent)


@pytest.mark.parametrize("sucrose", [-1, 61, math.nan])
def test_sorbic_solubility_out_of_range(sucrose: float) -> None:
    with pytest.raises(OutOfRange):
        p.sorbic_solubility(sucrose)


@given(st.floats(0.01, 100))
def test_spoons_and_grams_are_each_others_inverse(grams: float) -> None:
    spoons = p.sorbate_teaspoons(grams)
    assert p.spooned_grams(spoons.likely).likely == pytest.approx(grams)
    assert p.spooned_grams(spoons.low).high == pytest.approx(grams)


@pytest.mark.parametrize(
    ("volume_l", "spirit_ml", "abv", "percent", "keeps"),
    [  # by hand: 30*40/1530, 1000*40/2000, 1500*40/2500
        (1.5, 30, 40, 0.784, False),
        (1, 1000, 40, 20.0, True),
        (1, 999, 40, 19.99, False),
        (1, 1500, 40, 24.0, True),
        (1, 0, 40, 0.0, False),
    ],
)
def test_alcohol(
    volume_l: float, spirit_ml: float, abv: float, percent: float, keeps: bool
) -> None:
    effect = p.alcohol_preserves(volume_l, spirit_ml, abv)
    assert effect.abv == pytest.approx(percent, abs=0.005)
    assert effect.keeps is keeps


@given(st.floats(0.1, 100), st.floats(25, 96))
def test_the_spirit_needed_is_enough(volume_l: float, abv: float) -> None:
    needed = p.alcohol_preserves(volume_l, 0, abv).needed_ml
    assert needed is not None
    assert p.alcohol_preserves(volume_l, needed * 1.0001, abv).keeps


def test_an_ounce_preserves_nothing_and_weak_spirit_never_does() -> None:
    assert "preserves nothing" in p.alcohol_preserves(0.5, 28, 40).words
    assert p.alcohol_preserves(1, 100, 15).needed_ml is None
