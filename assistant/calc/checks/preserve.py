"""Preservative factors and solubilities against published values."""

from assistant.calc.answer import Check
from assistant.calc.preserve import (
    POTASSIUM_SORBATE_TO_ACID,
    SODIUM_BENZOATE_TO_ACID,
    sorbate_dose,
    sorbic_solubility,
    undissociated_share,
)

_WEIGHTS = (
    "IUPAC abridged standard atomic weights: C 12.011, H 1.008, O 15.999, K 39.098, Na 22.990"
)


def _share(ph: float, pka: float) -> float:
    return 100 * undissociated_share(ph, pka)


def _sorbate_factor() -> float:
    return POTASSIUM_SORBATE_TO_ACID


def _benzoate_factor() -> float:
    return SODIUM_BENZOATE_TO_ACID


def _codex_dose(volume_l: float) -> float:
    return sorbate_dose(volume_l, 3.2, "codex").acid_mg_l


CHECKS: tuple[Check, ...] = (
    Check(
        formula="sorbic acid in potassium sorbate",
        source=_WEIGHTS,
        unit="g/g",
        function=_sorbate_factor,
        rows=(((), 112.128 / (112.128 - 1.008 + 39.098)),),
        tolerance=1e-5,
        kind="arithmetic",
    ),
    Check(
        formula="benzoic acid in sodium benzoate",
        source=_WEIGHTS,
        unit="g/g",
        function=_benzoate_factor,
        rows=(((), 122.123 / (122.123 - 1.008 + 22.990)),),
        tolerance=1e-5,
        kind="arithmetic",
    ),
    Check(
        formula="undissociated share of an acid",
        source="Henderson-Hasselbalch, worked out apart for sorbic (4.76) and benzoic acid (4.204)",
        unit="%",
        function=_share,
        rows=(
            ((3.0, 4.76), 98.3),
            ((3.5, 4.76), 94.8),
            ((4.0, 4.76), 85.2),
            ((4.6, 4.76), 59.1),
            ((3.0, 4.204), 94.1),
            ((3.5, 4.204), 83.5),
            ((4.0, 4.204), 61.5),
            ((4.6, 4.204), 28.7),
        ),
        tolerance=0.06,
        kind="arithmetic",
    ),
    Check(
        formula="sorbic acid that stays dissolved at 20 degC",
        source="Smith & Hong-Shum (eds), Food Additives Data Book, sorbic acid",
        unit="%",
        function=sorbic_solubility,
        rows=(((10,), 0.15), ((40,), 0.10), ((60,), 0.08)),
        tolerance=1e-9,
        kind="same source",
    ),
    Check(
        formula="largest sorbate dose for drinks",
        source="Codex GSFA (STAN 192), category 14.1.4, sorbates: 500 mg/kg as sorbic acid",
        unit="mg/l",
        function=_codex_dose,
        rows=(((10,), 500), ((100,), 500)),
        tolerance=1.0,
        kind="arithmetic",
    ),
)
