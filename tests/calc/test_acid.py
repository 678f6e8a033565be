"""pH, titratable acidity and mixing of weak acids."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc.acid import (
    Mixture,
    charge,
    ideal_ph,
    ionic_strength,
    log_activity,
    of_grams,
    ph_of,
    protons_lost,
    stages,
    titratable_acidity,
)
from assistant.calc.acid_blend import blend, diluted
from assistant.calc.acid_constants import ACIDS

AMOUNTS = st.floats(1e-5, 0.1)
MIXTURES = st.builds(
    lambda acids, share: Mixture(acids, share * sum(acids.values())),
    st.dictionaries(st.sampled_from(sorted(ACIDS)), AMOUNTS, min_size=1, max_size=3),
    st.floats(-0.2, 0.8),
)
FEW = settings(max_examples=40, deadline=None)


@pytest.mark.parametrize(
    ("mixture", "ph"),
    [
        # x*x/(0.1-x) = 10**-4.756, so x = 0.001316
        (Mixture({"acetic": 0.1}), 2.881),
        # half neutralised: pH = pKa, plus the little the free protons add
        (Mixture({"acetic": 0.1}, cations=0.05), 4.756),
        # x*x/(0.01-x) = 10**-3.13, so x = 0.00238; the second proton adds 0.7 %
        (Mixture({"citric": 0.01}), 2.621),
        # strong acid and strong base alone
        (Mixture({}, cations=-0.01), 2.0),
        (Mixture({}, cations=0.01), 12.0),
        (Mixture(), 7.0),
    ],
)
def test_ideal_ph_worked_by_hand(mixture: Mixture, ph: float) -> None:
    assert ideal_ph(mixture) == pytest.approx(ph, abs=0.002)


@pytest.mark.parametrize(
    ("acid", "mol_l", "ph"),
    [  # aqion, "pH of common acids and bases", calculated at 25 degC, for 1, 10 and 100 mmol/l
        ("citric", 0.001, 3.24),
        ("citric", 0.01, 2.62),
        ("citric", 0.1, 2.08),
        ("lactic", 0.001, 3.51),
        ("lactic", 0.01, 2.96),
        ("lactic", 0.1, 2.44),
        ("acetic", 0.001, 3.91),
        ("acetic", 0.01, 3.39),
        ("acetic", 0.1, 2.88),
    ],
)
def test_ph_of_pure_acids(acid: str, mol_l: float, ph: float) -> None:
    assert ph_of(Mixture({acid: mol_l})) == pytest.approx(ph, abs=0.011)


def test_ph_of_a_primary_standard() -> None:
    """0.05 molal potassium dihydrogen citrate, pH 3.776 at 25 degC: J. Res. NBS 73A (1969) 37."""
    standard = Mixture({"citric": 0.05}, cations=0.05)
    assert ph_of(standard) == pytest.approx(3.776, abs=0.02)
    assert ideal_ph(standard) - 3.776 > 0.15


@pytest.mark.parametrize(("acid", "pka"), [(a.name, a.pka[0]) for a in ACIDS.values()])
def test_half_the_first_proton_is_gone_at_the_first_pka(acid: str, pka: float) -> None:
    whole, first, *_ = stages(acid, pka)
    assert whole == pytest.approx(first)


@given(st.sampled_from(sorted(ACIDS)), st.floats(0, 14), st.floats(0, 0.5))
def test_stages_add_up(acid: str, ph: float, strength: float) -> None:
    shares = stages(acid, ph, strength)
    assert sum(shares) == pytest.approx(1)
    assert min(shares) >= 0


@FEW
@given(MIXTURES)
def test_charge_is_nought_at_the_ph(mixture: Mixture) -> None:
    ph = ideal_ph(mixture)
    assert math.isfinite(ph)
    assert charge(mixture, ph) == pytest.approx(0, abs=1e-9)


@FEW
@given(MIXTURES)
def test_ph_with_activity_is_finite_and_near_the_ideal(mixture: Mixture) -> None:
    assert abs(ph_of(mixture) - ideal_ph(mixture)) < 0.7


@FEW
@given(MIXTURES, st.sampled_from(sorted(ACIDS)), st.floats(1e-4, 0.05))
def test_more_acid_never_raises_the_ph(mixture: Mixture, acid: str, more: float) -> None:
    assert ideal_ph(mixture.plus(acid, more)) <= ideal_ph(mixture) + 1e-9


@FEW
@given(MIXTURES, st.floats(1e-4, 0.05))
def test_more_potassium_raises_the_ph(mixture: Mixture, more: float) -> None:
    salted = Mixture(mixture.acids, mixture.cations + more)
    assert ideal_ph(salted) > ideal_ph(mixture)


@FEW
@given(MIXTURES, st.floats(2, 9), st.floats(2, 9))
def test_charge_falls_as_the_ph_rises(mixture: Mixture, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert charge(mixture, low) >= charge(mixture, high)


@pytest.mark.parametrize(
    ("grams", "acidity"),
    [  # by hand: 192.123/3 g of citric acid a mole of base; 2 protons of malic, 1 of acetic
        ({"citric": 10.0}, 9.95),  # the third proton, pKa 6.40, is 98.4 % gone at pH 8.2
        ({"malic": 10.0}, 20 / 134.087 * 64.041),
        ({"tartaric": 10.0}, 20 / 150.086 * 64.041),
        ({"acetic": 10.0}, 10 / 60.052 * 64.041),
        ({"lactic": 10.0}, 10 / 90.078 * 64.041),
    ],
)
def test_titratable_acidity(grams: dict[str, float], acidity: float) -> None:
    assert titratable_acidity(of_grams(**grams)) == pytest.approx(acidity, rel=0.002)


def test_potassium_takes_from_the_acidity() -> None:
    bare = titratable_acidity(of_grams(citric=10))
    salted = titratable_acidity(of_grams(50, citric=10))
    assert bare - salted == pytest.approx(0.05 * 64.041)


@pytest.mark.parametrize(
    ("strength", "log_gamma"),
    [  # by hand: -0.509*(sqrt(I)/(1+sqrt(I)) - 0.3*I)
        (0.0, 0.0),
        (0.01, -0.0447),
        (0.1, -0.1070),
        (0.5, -0.1345),
    ],
)
def test_davies(strength: float, log_gamma: float) -> None:
    assert log_activity(strength) == pytest.approx(log_gamma, abs=1e-4)


def test_ionic_strength_by_hand() -> None:
    """0.1 mol/l trisodium citrate, all ionised: (0.3 + 9 * 0.1) / 2."""
    assert ionic_strength(Mixture({"citric": 0.1}, 0.3), 10.0) == pytest.approx(0.6, abs=0.001)


@FEW
@given(MIXTURES, MIXTURES, st.floats(0.1, 10))
def test_blend_lies_between_its_parts(one: Mixture, other: Mixture, volume: float) -> None:
    whole = ideal_ph(blend((one, 1.0), (other, volume)))
    low, high = sorted((ideal_ph(one), ideal_ph(other)))
    assert low - 0.35 <= whole <= high + 0.35


@FEW
@given(MIXTURES, st.floats(1, 100))
def test_dilution_keeps_the_moles(mixture: Mixture, times: float) -> None:
    thin = diluted(mixture, times)
    assert thin.cations * times == pytest.approx(mixture.cations)
    for name, amount in mixture.acids.items():
        assert thin.acids[name] * times == pytest.approx(amount)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Mixture({"citric": -0.1}),
        lambda: Mixture({"citric": math.nan}),
        lambda: Mixture({"citric": 3.1}),
        lambda: Mixture({}, cations=4),
        lambda: protons_lost("citric", 17),
        lambda: log_activity(0.51),
        lambda: log_activity(-0.1),
        lambda: charge(Mixture(), -3),
        lambda: titratable_acidity(Mixture(), 6),
        lambda: diluted(Mixture(), 0.5),
        lambda: blend((Mixture(), 0.0)),
        lambda: ph_of(Mixture({"citric": 1.0}, cations=2.0)),
    ],
)
def test_out_of_range(make: object) -> None:
    assert callable(make)
    with pytest.raises(OutOfRange):
        make()


def test_unknown_acid_names_the_known_ones() -> None:
    with pytest.raises(WrongUse, match="citric, malic"):
        of_grams(nitric=1)
