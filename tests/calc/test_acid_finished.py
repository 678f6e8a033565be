"""The pH when everything is in: lime in the water, preservative, salts, and juice from before."""

import phreeqc
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc.acid import Mixture, ph_of
from assistant.calc.acid_finished import (
    MODEL_PH,
    SALTS,
    Additions,
    finished_ph,
    ph_after,
    salt_named,
    with_everything,
)
from assistant.calc.acid_fit import fitted
from assistant.calc.spread import Spread

FEW = settings(max_examples=40, deadline=None)
PLAIN = {"citric": 1.0}


def _plain(lime: float, sorbate_g: float = 0.0) -> Spread:
    return finished_ph(Additions(PLAIN, {"potassium sorbate": sorbate_g}, 0.6, lime), 1.0)


def test_lime_in_the_water_lifts_a_plain_syrup_by_whole_units() -> None:
    soft, hard = _plain(0.0).likely, _plain(400.0).likely
    assert hard - soft > 0.8


def test_sorbate_is_a_base() -> None:
    assert _plain(0.0, 0.7).likely - _plain(0.0).likely > 0.5


def test_hard_water_and_sorbate_bring_a_little_acid_over_the_makers_line() -> None:
    assert _plain(0.0).high < 4.0
    assert _plain(400.0, 0.7).likely > 4.0


def test_soda_water_against_phreeqc() -> None:
    """Bicarbonate met by citric acid with its gas kept in: USGS PHREEQC, its own carbonate data."""
    engine = phreeqc.Phreeqc()
    assert engine.LoadDatabaseString(_DATABASE) == 0, engine.GetErrorString()
    ours, lines = [], ["SELECTED_OUTPUT", " -reset false", " -pH true"]
    for n, (citric, lime) in enumerate([(0.5, 150), (1.0, 300), (2.0, 400), (0.1, 100)], start=1):
        added = Additions({"citric": citric}, water_l=1.0, alkalinity_mg_l=float(lime))
        ours.append(ph_of(with_everything(added, 1.0, carbonic_share=1.0)))
        ion = lime / 50.04 / 1000
        lines += [f"SOLUTION {n}", " temp 25", " units mol/kgw", " pH 5 charge"]
        lines += [f" Na {ion!r}", f" C(4) {ion!r}", f" Cit {citric / 192.123!r}", "END"]
    assert engine.RunString("\n".join(lines)) == 0, engine.GetErrorString()
    theirs = [float(ph) for ph in engine.GetSelectedOutput()["pH"]]
    assert ours == pytest.approx(theirs, abs=0.03)


_DATABASE = """SOLUTION_MASTER_SPECIES
H H+ -1 H 1.008
H(0) H2 0 H
H(1) H+ -1 H
E e- 0 0 0
O H2O 0 O 16
O(0) O2 0 O
O(-2) H2O 0 O
Na Na+ 0 Na 22.99
C CO3-2 2 C 12.011
C(4) CO3-2 2 C
Cit Cit-3 0 192 192
SOLUTION_SPECIES
H+ = H+
Na+ = Na+
e- = e-
H2O = H2O
CO3-2 = CO3-2
Cit-3 = Cit-3
H2O = OH- + H+
 log_k -14.0
2H2O = O2 + 4H+ + 4e-
 log_k -86.08
2H+ + 2e- = H2
 log_k -3.15
CO3-2 + H+ = HCO3-
 log_k 10.329
CO3-2 + 2H+ = CO2 + H2O
 log_k 16.681
Cit-3 + H+ = HCit-2
 log_k 6.40
Cit-3 + 2H+ = H2Cit-
 log_k 11.16
Cit-3 + 3H+ = H3Cit
 log_k 14.29
"""


def test_nothing_added_leaves_the_ph_as_read() -> None:
    same = ph_after(3.4, 10.0, 1.0, Additions(), 1.0)
    assert same.likely == pytest.approx(3.4, abs=0.005)
    assert (same.low, same.high) == (pytest.approx(3.3, abs=0.01), pytest.approx(3.5, abs=0.01))


def test_thinning_with_pure_water_moves_a_buffered_syrup_little() -> None:
    thin = ph_after(3.4, 10.0, 1.0, Additions(water_l=1.0, alkalinity_mg_l=0.0), 2.0)
    assert 3.4 < thin.likely < 3.55


def test_salts_agree_with_their_acid_and_base() -> None:
    salted = with_everything(Additions(salts_g={"trisodium citrate": 29.4099}), 1.0)
    assert salted.acids["citric"] == pytest.approx(0.1)
    assert salted.cations == pytest.approx(0.3)


def test_juice_and_additions_go_into_one_volume() -> None:
    juice = fitted(3.3, 12)
    whole = with_everything(Additions({"malic": 13.4087}), 2.0, juice, 1.0)
    assert whole.acids["malic"] == pytest.approx(0.05)
    assert whole.acids["citric"] == pytest.approx(juice.acids["citric"] / 2)
    assert whole.cations == pytest.approx(juice.cations / 2)


@FEW
@given(st.floats(0, 10), st.floats(0, 2), st.floats(0, 2), st.floats(0, 400))
def test_the_spread_is_in_order_and_never_narrower_than_the_model(
    citric: float, sorbate: float, water: float, lime: float
) -> None:
    added = Additions({"citric": citric}, {"potassium sorbate": sorbate}, water, lime)
    found = finished_ph(added, 2.5)
    assert found.likely - found.low >= MODEL_PH - 1e-9
    assert found.high - found.likely >= MODEL_PH - 1e-9


@FEW
@given(st.floats(0.2, 10), st.floats(0, 400), st.floats(0, 100))
def test_harder_water_never_lowers_the_ph(citric: float, lime: float, more: float) -> None:
    soft = finished_ph(Additions({"citric": citric}, water_l=0.6, alkalinity_mg_l=lime), 1.0)
    hard = finished_ph(Additions({"citric": citric}, water_l=0.6, alkalinity_mg_l=lime + more), 1.0)
    assert hard.likely >= soft.likely - 1e-9


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf"), 10_001.0])
def test_impossible_volumes_are_refused(bad: float) -> None:
    with pytest.raises(OutOfRange):
        finished_ph(Additions(PLAIN), bad)
    with pytest.raises(OutOfRange):
        ph_after(3.4, 10.0, bad, Additions(), bad)


@pytest.mark.parametrize(
    "added",
    [
        Additions({"citric": -1.0}),
        Additions(salts_g={"potassium sorbate": float("nan")}),
        Additions(water_l=-0.1),
        Additions(water_l=1.0, alkalinity_mg_l=1001.0),
    ],
)
def test_impossible_additions_are_refused(added: Additions) -> None:
    with pytest.raises(OutOfRange):
        finished_ph(added, 1.0)


def test_unknown_acids_and_salts_are_named() -> None:
    with pytest.raises(WrongUse, match="citric"):
        finished_ph(Additions({"lemon": 1.0}), 1.0)
    with pytest.raises(WrongUse, match="potassium sorbate"):
        salt_named("table salt")
    assert [s for s in SALTS if SALTS[s][0] == "citric"] == [
        "trisodium citrate",
        "tripotassium citrate",
    ]


def test_the_acid_of_a_plain_syrup_alone_is_its_own_ph() -> None:
    """Water without lime adds nothing: 1 g/l of citric acid alone."""
    alone = ph_of(Mixture({"citric": 1.0 / 192.123}))
    assert _plain(0.0).likely == pytest.approx(alone)
