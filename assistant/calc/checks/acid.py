"""pH of acids and of a primary standard against published values."""

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
    ),
    Check(
        formula="pH of lactic acid in water",
        source=_AQION,
        unit="pH",
        function=_lactic,
        rows=(((0.001,), 3.51), ((0.01,), 2.96), ((0.1,), 2.44)),
        tolerance=0.011,
    ),
    Check(
        formula="pH of acetic acid in water",
        source=_AQION,
        unit="pH",
        function=_acetic,
        rows=(((0.001,), 3.91), ((0.01,), 3.39), ((0.1,), 2.88)),
        tolerance=0.011,
    ),
    Check(
        formula="pH of potassium dihydrogen citrate, with activity",
        source="Primary pH standard, J. Res. NBS 73A (1969) 37: 3.776 at 25 degC",
        unit="pH",
        function=_potassium_dihydrogen_citrate,
        rows=(((0.05,), 3.776),),
        tolerance=0.02,
    ),
    Check(
        formula="pKa of sorbic acid",
        source="Smith & Hong-Shum (eds), Food Additives Data Book: constant 1.73e-5 at 25 degC",
        unit="pH",
        function=_sorbic_pka,
        rows=(((), -log10(1.73e-5)),),
        tolerance=0.001,
    ),
)
