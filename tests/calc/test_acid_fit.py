"""Natural buffering from pH and acidity, and acid doses."""

import math
import random
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc import acid_constants
from assistant.calc.acid import Mixture, of_grams, ph_of, titratable_acidity
from assistant.calc.acid_blend import blend
from assistant.calc.acid_constants import ACIDS
from assistant.calc.acid_fit import (
    FIT_PH,
    FRUIT_CATIONS_MOL_L,
    acid_for_acidity,
    acid_for_ph,
    dose_spread,
    fitted,
    fruit_acidity,
    nearest,
    pour_for_ph,
    titrated,
)
from assistant.calc.acid_measure import METER_PH
from assistant.calc.fruits import Fruit, all_fruits
from assistant.calc.spread import Spread

FRUIT_ACIDS = st.sampled_from(["citric", "malic", "tartaric"])
POWDERS = st.sampled_from(["citric", "malic", "tartaric", "lactic", "ascorbic"])
PHS = st.floats(3.1, 4.5)
ACIDITIES = st.floats(2, 12)
FEW = settings(max_examples=30, deadline=None)


@FEW
@given(PHS, ACIDITIES, FRUIT_ACIDS)
def test_fit_gives_back_the_ph_and_the_acidity(ph: float, acidity: float, acid: str) -> None:
    assume(acid != "tartaric" or ph < 3.7)  # above it is mostly salt, too crowded to reckon
    juice = fitted(ph, acidity, acid)
    assert ph_of(juice) == pytest.approx(ph, abs=1e-4)
    assert titratable_acidity(juice) == pytest.approx(acidity, rel=1e-6)
    assert juice.cations > 0


def test_fit_finds_a_made_up_juice_again() -> None:
    made = Mixture({"citric": 0.08}, cations=0.05)
    found = fitted(ph_of(made), titratable_acidity(made))
    assert found.acids["citric"] == pytest.approx(0.08, rel=1e-4)
    assert found.cations == pytest.approx(0.05, rel=1e-4)


def test_fit_refuses_a_ph_that_so_little_acid_can_not_make() -> None:
    alone = ph_of(of_grams(citric=2))
    assert fitted(alone + 0.05, 2).cations > 0
    with pytest.raises(OutOfRange, match="pH with 2 g/l"):
        fitted(alone - 0.05, 2)


@pytest.mark.parametrize(
    ("ph", "acidity"), [(1.4, 10), (5.3, 10), (3, 0.05), (3, 151), (math.nan, 10), (4.9, 40)]
)
def test_fit_out_of_range(ph: float, acidity: float) -> None:
    with pytest.raises(OutOfRange):
        fitted(ph, acidity)


@FEW
@given(PHS, ACIDITIES, POWDERS, st.floats(0.05, 0.6))
def test_dose_brings_the_ph_to_its_target(
    ph: float, acidity: float, acid: str, drop: float
) -> None:
    assume(acid != "ascorbic" or ph - drop > 3.2)
    juice = fitted(ph, acidity)
    grams = acid_for_ph(juice, acid, ph - drop)
    after = juice.plus(acid, grams / ACIDS[acid].molar_mass)
    assert grams > 0
    assert ph_of(after) == pytest.approx(ph - drop, abs=1e-4)


@FEW
@given(PHS, ACIDITIES, st.floats(2.8, 3.05), st.floats(0.01, 0.3))
def test_a_lower_target_takes_more(ph: float, acidity: float, low: float, more: float) -> None:
    juice = fitted(ph, acidity)
    assert acid_for_ph(juice, "citric", low) > acid_for_ph(juice, "citric", min(low + more, ph))


@FEW
@given(PHS, ACIDITIES, st.floats(0.1, 5))
def test_more_buffering_takes_more(ph: float, acidity: float, more: float) -> None:
    target = ph - 0.3
    weak, strong = (acid_for_ph(fitted(ph, a), "citric", target) for a in (acidity, acidity + more))
    assert strong > weak


def test_nothing_to_add_when_it_is_there() -> None:
    juice = fitted(3.2, 10)
    assert acid_for_ph(juice, "citric", 3.3) == 0
    assert acid_for_acidity(juice, "citric", 9) == 0
    assert pour_for_ph(juice, 1.0, fitted(2.3, 50), 3.3) == 0


def test_dose_worked_by_hand() -> None:
    """Water to pH 3.0 with acetic acid, ideal: x = h + h*h/K = 0.001 + 1e-6/1.754e-5 = 0.0580."""
    grams = acid_for_ph(Mixture(), "acetic", 3.0)
    assert grams == pytest.approx(0.0580 * 60.052, rel=0.05)


def test_dose_out_of_reach_is_refused() -> None:
    with pytest.raises(OutOfRange, match="ascorbic"):
        acid_for_ph(fitted(3.8, 12), "ascorbic", 2.1)


@FEW
@given(PHS, ACIDITIES, POWDERS, st.floats(0.1, 10))
def test_acidity_dose_is_what_it_lacks(ph: float, acidity: float, acid: str, more: float) -> None:
    juice = fitted(ph, acidity)
    grams = acid_for_acidity(juice, acid, acidity + more)
    after = juice.plus(acid, grams / ACIDS[acid].molar_mass)
    assert titratable_acidity(after) == pytest.approx(acidity + more, rel=1e-6)


@FEW
@given(PHS, ACIDITIES, st.floats(0.5, 20), st.floats(0.05, 0.5))
def test_lemon_juice_poured_brings_the_ph_there(
    ph: float, acidity: float, volume: float, drop: float
) -> None:
    juice, lemon = fitted(ph, acidity), fitted(2.3, 50)
    poured = pour_for_ph(juice, volume, lemon, ph - drop)
    assert ph_of(blend((juice, volume), (lemon, poured))) == pytest.approx(ph - drop, abs=1e-4)


def test_a_liquid_that_is_not_sour_enough_is_refused() -> None:
    with pytest.raises(OutOfRange, match="target pH"):
        pour_for_ph(fitted(3.8, 8), 1.0, fitted(3.4, 10), 3.3)


@FEW
@given(st.floats(3.2, 3.8), ACIDITIES, st.floats(0.02, 0.3), st.floats(0.1, 0.5))
def test_spread_holds_the_exact_dose(ph: float, acidity: float, unsure: float, drop: float) -> None:
    target = ph - drop
    spread = dose_spread(ph, Spread.within(acidity, 0.3), target, ph_unsure=unsure)
    assert spread.likely == pytest.approx(acid_for_ph(fitted(ph, acidity), "citric", target))
    inside = fitted(ph + unsure / 2, acidity * 1.1)
    assert spread.about(acid_for_ph(inside, "citric", target))


def test_the_spread_of_a_measured_juice_holds_what_it_really_takes(monkeypatch) -> None:
    """Juices of two acids whose constants are off, read by a meter and titration that are off."""
    dice = random.Random(1)
    inside = []
    for _ in range(150):
        off = {
            n: replace(a, pka=tuple(p + dice.uniform(-0.1, 0.1) for p in a.pka))
            for n, a in ACIDS.items()
        }
        mix = Mixture(
            {"citric": dice.uniform(0.01, 0.06), "malic": dice.uniform(0, 0.02)},
            dice.uniform(0.01, 0.08),
        )
        drop = dice.uniform(0.2, 0.7)
        with monkeypatch.context() as really:
            really.setattr(acid_constants, "ACIDS", off)
            ph, acidity = ph_of(mix), titratable_acidity(mix)
            if not 3.0 < ph < 4.6 or ph - drop < 2.7:
                continue
            takes = acid_for_ph(mix, "citric", ph - drop)
        read, titrated = ph + dice.uniform(-0.1, 0.1), acidity * dice.uniform(0.95, 1.05)
        inside.append(dose_spread(read, titrated, ph - drop).about(takes))
    assert len(inside) > 60
    assert sum(inside) > 0.9 * len(inside)


def test_a_titration_has_its_doubt_and_a_guess_its_own() -> None:
    measured = titrated(8.0)
    assert (measured.low, measured.high) == (pytest.approx(7.6), pytest.approx(8.4))
    assert titrated(Spread(6, 8, 10)) == Spread(6, 8, 10)


FRUITS = [(k, f) for k, f in all_fruits().items() if f.acidity and f.ph_high and f.ph_low]


@pytest.mark.parametrize(("name", "one"), FRUITS, ids=[k for k, _ in FRUITS])
def test_a_typical_fruit_gets_a_dose_or_is_refused_by_its_ph(name: str, one: Fruit) -> None:
    acidity, main = fruit_acidity(name)
    assert one.ph_high is not None
    if one.ph_high + METER_PH > FIT_PH[1]:
        with pytest.raises(OutOfRange, match="pH"):
            dose_spread(one.ph_high, acidity, 3.8, main_acid=main)
        return
    target = min(one.ph_high - 0.2, 3.8)
    spread = dose_spread(one.ph_high, acidity, target, main_acid=main)
    assert 0 <= spread.low < spread.likely <= spread.high < 100


def test_a_guess_stops_at_the_potassium_of_fruit() -> None:
    guess = nearest(4.4, 20, most_cations=FRUIT_CATIONS_MOL_L)
    assert ph_of(guess) == pytest.approx(4.4, abs=1e-4)
    assert guess.cations == FRUIT_CATIONS_MOL_L
    assert titratable_acidity(guess) < 20


def test_spread_where_the_low_corner_is_acid_alone() -> None:
    spread = dose_spread(3.0, Spread(1.0, 3.0, 5.0), 2.8)
    assert 0 <= spread.low < spread.likely < spread.high


@pytest.mark.parametrize(
    ("name", "share", "likely", "main"),
    [  # fruit table: raspberry 2.1 % citric, plum 1.5 % malic, turned into citric by equivalents
        ("raspberry", 1.0, 21.0, "citric"),
        ("raspberry", 0.5, 10.5, "citric"),
        ("plum", 1.0, 15.0 * 64.041 / 67.044, "malic"),
    ],
)
def test_fruit_acidity(name: str, share: float, likely: float, main: str) -> None:
    spread, acid = fruit_acidity(name, share)
    assert spread.likely == pytest.approx(likely, rel=0.01)
    assert spread.low < spread.likely < spread.high
    assert acid == main


@pytest.mark.parametrize("name", ["moonfruit", ""])
def test_unknown_fruit_is_not_guessed(name: str) -> None:
    with pytest.raises(WrongUse, match="no acidity is known"):
        fruit_acidity(name)
