"""pH of acids, of primary standards and of a juice against published values."""

from math import log10

from assistant.calc.acid import Mixture, ph_of
from assistant.calc.acid_constants import ACIDS
from assistant.calc.answer import Check

_AQION = 'aqion, "pH of common acids and bases", calculated for 25 degC'


def _pure(acid: str, mol_l: float) -> float:
    return ph_of(Mixture({acid: mol_l}))


def _citric(mol_l: float) -> float:
    return _pure("citric", mol_l)


def _lactic(mol_l: float) -> float:
    return _pure("lactic", mol_l)


def _acetic(mol_l: float) -> float:
    return _pure("acetic", mol_l)


def _standard(acid: str, mol_l: float, ions_mol_l: float) -> float:
    return ph_of(Mixture({acid: mol_l}, ions_mol_l))


def _potassium_hydrogen_tartrate(mol_l: float) -> float:
    return _standard("tartaric", mol_l, mol_l)


def _phosphates(mol_l: float) -> float:
    """As much dihydrogen as monohydrogen phosphate, so many mol/l of each."""
    return _standard("phosphoric", 2 * mol_l, 3 * mol_l)


def _carbonates(mol_l: float) -> float:
    """As much bicarbonate as carbonate, so many mol/l of each."""
    return _standard("carbonic", 2 * mol_l, 3 * mol_l)


def _orange_juice() -> float:
    """Means of the table, its metals as strong ions, twice for calcium and magnesium."""
    ions = 1.900 / 39.098 + 0.014 / 22.990 + 2 * 0.080 / 40.078 + 2 * 0.100 / 24.305
    acids = {"citric": 9.4 / 192.123, "malic": 1.7 / 134.087, "phosphoric": 0.460 / 94.971}
    return ph_of(Mixture(acids, ions - 0.060 / 35.45))


def _potassium_dihydrogen_citrate(mol_l: float) -> float:
    return ph_of(Mixture({"citric": mol_l}, cations=mol_l))


def _sorbic_pka() -> float:
    return ACIDS["sorbic"].pka[0]


CHECKS: tuple[Check, ...] = (
    Check(
        formula="pH of citric acid in water",
        source=_AQION,
        unit="pH",
        function=_citric,
        rows=(((0.001,), 3.24), ((0.01,), 2.62), ((0.1,), 2.08)),
        tolerance=0.011,
        kind="independent",
    ),
    Check(
        formula="pH of lactic acid in water",
        source=_AQION,
        unit="pH",
        function=_lactic,
        rows=(((0.001,), 3.51), ((0.01,), 2.96), ((0.1,), 2.44)),
        tolerance=0.011,
        kind="same source",
    ),
    Check(
        formula="pH of acetic acid in water",
        source=_AQION,
        unit="pH",
        function=_acetic,
        rows=(((0.001,), 3.91), ((0.01,), 3.39), ((0.1,), 2.88)),
        tolerance=0.011,
        kind="independent",
    ),
    Check(
        formula="pH of potassium dihydrogen citrate, with activity",
        source="Primary pH standard, J. Res. NBS 73A (1969) 37: 3.776 at 25 degC",
        unit="pH",
        function=_potassium_dihydrogen_citrate,
        rows=(((0.05,), 3.776),),
        tolerance=0.02,
        kind="independent",
    ),
    Check(
        formula="pH of potassium hydrogen tartrate, with activity",
        source="Primary pH standard, saturated at 25 degC, 0.0341 mol/kg: 3.557 (NBS, from memory)",
        unit="pH",
        function=_potassium_hydrogen_tartrate,
        rows=(((0.0341,), 3.557),),
        tolerance=0.02,
        kind="independent",
    ),
    Check(
        formula="pH of phosphates, with activity",
        source="Primary pH standard, 0.025 mol/kg of each phosphate at 25 degC: 6.865 (NBS, from "
        "memory)",
        unit="pH",
        function=_phosphates,
        rows=(((0.025,), 6.865),),
        tolerance=0.03,
        kind="independent",
    ),
    Check(
        formula="pH of carbonates, with activity",
        source="Primary pH standard, J. Res. NBS 73A (1969) 37: 10.012 at 25 degC",
        unit="pH",
        function=_carbonates,
        rows=(((0.025,), 10.012),),
        tolerance=0.03,
        kind="independent",
    ),
    Check(
        formula="pH of orange juice from its composition",
        source="mean composition: Belitz, Grosch & Schieberle, Food Chemistry, table 18.41; "
        "measured, one brand of juice: 3.81, a list of drinks' pH read at second hand",
        unit="pH",
        function=_orange_juice,
        rows=(((), 3.81),),
        tolerance=0.2,
        kind="independent",
        catches=0.1,
    ),
    Check(
        formula="pKa of sorbic acid",
        source="Smith & Hong-Shum (eds), Food Additives Data Book: constant 1.73e-5 at 25 degC",
        unit="pH",
        function=_sorbic_pka,
        rows=(((), -log10(1.73e-5)),),
        tolerance=0.001,
        kind="same source",
    ),
)
