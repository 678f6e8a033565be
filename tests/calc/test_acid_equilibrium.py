"""pH against PHREEQC, the geochemical equilibrium code of the US Geological Survey.

Its solver and its activity model are independent of ours; only the constants are handed over.
"""

import random

import phreeqc
import pytest

from assistant.calc.acid import Mixture, charge, ideal_ph, ph_of, settled
from assistant.calc.acid_constants import ACIDS, PKW, TITRATION_END_PH
from assistant.calc.acid_fit import acid_for_ph, fitted

TOLERANCE = 0.02
IDEAL = " -gamma 1e12 0\n"
DAVIES = ""
_ELEMENT = {name: f"Ac{name[:3]}" for name in ACIDS}


def _database(gamma: str) -> str:
    masters = [
        "H H+ -1 H 1.008", "H(0) H2 0 H", "H(1) H+ -1 H", "E e- 0 0 0", "O H2O 0 O 16",
        "O(0) O2 0 O", "O(-2) H2O 0 O", "Na Na+ 0 Na 22.99", "Cl Cl- 0 Cl 35.45",
    ]  # fmt: skip
    species = [f"{ion} = {ion}\n{gamma}" for ion in ("H+", "Na+", "Cl-")]
    species += ["e- = e-\n", "H2O = H2O\n"]
    species += [f"H2O = OH- + H+\n log_k {-PKW}\n{gamma}"]
    species += ["2H2O = O2 + 4H+ + 4e-\n log_k -86.08\n", "2H+ + 2e- = H2\n log_k -3.15\n"]
    for name, acid in ACIDS.items():
        element, n = _ELEMENT[name], len(acid.pka)
        bare = f"{element}-{n}" if n > 1 else f"{element}-"
        masters.append(f"{element} {bare} 0 100 100")
        species.append(f"{bare} = {bare}\n{gamma}")
        for protons in range(1, n + 1):
            left = n - protons
            sign = "" if left == 0 else "-" if left == 1 else f"-{left}"
            log_k = sum(acid.pka[-protons:])
            species.append(
                f"{protons}H+ + {bare} = H{protons}{element}{sign}\n log_k {log_k}\n"
                + (gamma if left else IDEAL)
            )
    return "\n".join(["SOLUTION_MASTER_SPECIES", *masters, "SOLUTION_SPECIES", *species])


def _phreeqc_ph(mixtures: list[Mixture], gamma: str) -> list[float]:
    engine = phreeqc.Phreeqc()
    assert engine.LoadDatabaseString(_database(gamma)) == 0, engine.GetErrorString()
    lines = ["SELECTED_OUTPUT", " -reset false", " -pH true"]
    for number, mixture in enumerate(mixtures, start=1):
        lines += [f"SOLUTION {number}", " temp 25", " units mol/kgw", " pH 4 charge"]
        ion = "Na" if mixture.cations >= 0 else "Cl"
        lines += [f" {ion} {abs(mixture.cations)!r}"]
        lines += [f" {_ELEMENT[name]} {amount!r}" for name, amount in mixture.acids.items()]
        lines += ["END"]
    assert engine.RunString("\n".join(lines)) == 0, engine.GetErrorString()
    return [float(ph) for ph in engine.GetSelectedOutput()["pH"]]


def _random_mixtures(seed: int, count: int) -> list[Mixture]:
    """One to eight acids, 0.1 mmol/l to 0.1 mol/l each; ions from strong acid to near neutral."""
    dice = random.Random(seed)
    mixtures = []
    for _ in range(count):
        names = dice.sample(sorted(ACIDS), dice.randint(1, len(ACIDS)))
        acids = {name: 10 ** dice.uniform(-4, -1) for name in names}
        mixtures.append(Mixture(acids, dice.uniform(-0.1, 0.8) * sum(acids.values())))
    return mixtures


@pytest.mark.parametrize("gamma", [IDEAL, DAVIES], ids=["ideal", "davies"])
def test_ph_of_random_mixtures(gamma: str) -> None:
    mixtures = _random_mixtures(seed=20, count=250)
    ours = [ideal_ph(m) if gamma == IDEAL else ph_of(m) for m in mixtures]
    theirs = _phreeqc_ph(mixtures, gamma)
    assert len(theirs) == 250
    assert max(theirs) - min(theirs) > 3
    worst = max(abs(a - b) for a, b in zip(ours, theirs, strict=True))
    assert worst < TOLERANCE


def test_dosed_juices_come_out_at_their_target() -> None:
    dice = random.Random(7)
    dosed, targets = [], []
    for _ in range(60):
        juice = fitted(
            dice.uniform(3.2, 4.4), dice.uniform(4, 12), dice.choice(["citric", "malic"])
        )
        target = ph_of(juice) - dice.uniform(0.1, 0.7)
        acid = dice.choice(["citric", "malic", "tartaric", "lactic"])
        grams = acid_for_ph(juice, acid, target)
        dosed.append(juice.plus(acid, grams / ACIDS[acid].molar_mass))
        targets.append(target)
    theirs = _phreeqc_ph(dosed, DAVIES)
    assert max(abs(a - b) for a, b in zip(targets, theirs, strict=True)) < TOLERANCE


def test_base_for_the_end_point_brings_it_there() -> None:
    mixtures = _random_mixtures(seed=3, count=60)
    ended = []
    for m in mixtures:
        base = -charge(m, TITRATION_END_PH)
        ended.append(Mixture(m.acids, m.cations + base))
    theirs = _phreeqc_ph(ended, IDEAL)
    assert theirs == pytest.approx([TITRATION_END_PH] * 60, abs=TOLERANCE)


def test_ionic_strength_is_settled_at_the_measured_ph() -> None:
    juice = fitted(3.6, 12)
    _, strength = settled(lambda _: juice, 3.6)
    assert ideal_ph(juice, strength) == pytest.approx(3.6, abs=1e-6)
    assert _phreeqc_ph([juice], DAVIES)[0] == pytest.approx(3.6, abs=TOLERANCE)
