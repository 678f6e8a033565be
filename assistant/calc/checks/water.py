"""Water activity and solubility against the published figures."""

from collections.abc import Callable
from math import exp, log

from assistant.calc.answer import Check
from assistant.calc.water import activity, activity_sucrose, sucrose_solubility

_ROBINSON = (
    "Robinson & Stokes, Electrolyte Solutions: isopiestic osmotic coefficients at 25 degC, "
    "from memory"
)
_BAEZA = "Norrish's equation as in Baeza et al., Food Bioprocess Technol 3 (2010) 87-92, K"
_CRC = (
    "CRC Handbook of Chemistry and Physics, freezing points of solutions of {}, as water activity "
    "over ice (Koop et al., Nature 406 (2000) 611, from memory); so near 0, not 25 degC"
)
_BUBNIK = "Bubnik & Kadlec in Mathlouthi & Reiser (eds), Sucrose (1995), computed with the fit"
_ANTOKOLSKAYA = "Mohos, Confectionery and Chocolate Engineering (2010), table A2.2 (Antokolskaya)"

_ROBINSON_ROWS = (
    ((3.31,), 0.9982), ((6.41,), 0.9963), ((9.31,), 0.9945), ((12.04,), 0.9926),
    ((14.61,), 0.9907), ((17.04,), 0.9887), ((19.33,), 0.9867), ((21.50,), 0.9847),
    ((23.55,), 0.9827), ((25.50,), 0.9806), ((29.12,), 0.9763), ((32.40,), 0.9719),
    ((35.39,), 0.9674), ((38.12,), 0.9628), ((40.64,), 0.9581), ((46.11,), 0.9457),
    ((50.66,), 0.9328), ((54.50,), 0.9193), ((57.79,), 0.9057), ((60.64,), 0.8917),
    ((63.12,), 0.8776), ((65.31,), 0.8634), ((67.25,), 0.8493),
)  # fmt: skip
_GLYCERIN_ROWS = (
    ((10,), 0.9782), ((20,), 0.9510), ((30,), 0.9163), ((40,), 0.8711), ((50,), 0.8108),
    ((60,), 0.7283), ((65,), 0.6755), ((66.7,), 0.6554), ((70,), 0.6127), ((75,), 0.5377),
)  # fmt: skip
_FRUCTOSE_ROWS = (
    ((10,), 0.9888), ((20,), 0.9744), ((30,), 0.9554), ((40,), 0.9297), ((50,), 0.8931),
    ((60,), 0.8383), ((65,), 0.8000), ((66.7,), 0.7847), ((70,), 0.7508), ((75,), 0.6860),
)  # fmt: skip
_BUBNIK_ROWS = (
    ((0,), 64.45), ((4,), 64.80), ((5,), 64.90), ((10,), 65.43), ((15,), 66.04), ((20,), 66.72),
    ((25,), 67.47), ((30,), 68.29), ((40,), 70.10), ((50,), 72.12), ((60,), 74.26), ((70,), 76.48),
    ((80,), 78.68), ((90,), 80.77), ((100,), 82.65),
)  # fmt: skip
_ANTOKOLSKAYA_ROWS = (
    ((0,), 64.18), ((5,), 64.88), ((10,), 65.58), ((15,), 66.33), ((20,), 67.09), ((25,), 67.89),
    ((30,), 68.74), ((35,), 69.55), ((40,), 70.42), ((45,), 71.32), ((50,), 72.25), ((55,), 73.20),
    ((60,), 74.18), ((65,), 75.18), ((70,), 76.22), ((75,), 77.27), ((80,), 78.36), ((85,), 79.46),
    ((90,), 80.61), ((95,), 81.77), ((100,), 82.97),
)  # fmt: skip
_FREEZING = {
    "sucrose": ((5, 0.29), (10, 0.63), (20, 1.47), (30, 2.64), (36, 3.63), (42, 4.93)),
    "fructose": ((10, 1.16), (20, 2.64), (28, 4.20)),
    "glucose": ((10, 1.17), (20, 2.70), (30, 4.79)),
    "glycerin": ((5, 1.08), (10, 2.32), (20, 5.46)),
    "citric_acid": ((1, 0.11), (2, 0.21), (5, 0.54), (10, 1.12)),
}
"""Mass % and degrees by which the freezing point lies below that of water."""


def _over_ice(lowered_k: float) -> float:
    t = 273.15 - lowered_k
    return exp((210368 + 131.438 * t - 3.32373e6 / t - 41729.1 * log(t)) / (8.31441 * t))


def _alone(solute: str) -> Callable[..., float]:
    def reckoned(percent: float) -> float:
        return activity(100 - percent, {solute: percent}).likely

    return reckoned


def _frozen(solute: str) -> Check:
    rows = tuple(((percent,), _over_ice(lowered)) for percent, lowered in _FREEZING[solute])
    name = solute.replace("_", " ")
    formula = f"water activity, {name}"
    return Check(formula, _CRC.format(name), "-", _alone(solute), rows, 0.006, "independent")


CHECKS: tuple[Check, ...] = (
    Check(
        "water activity, sucrose",
        f"{_ROBINSON}; among what the equation was fitted to",
        "-",
        activity_sucrose,
        _ROBINSON_ROWS,
        0.002,
        "same source",
    ),
    Check(
        "water activity, glycerin",
        f"{_BAEZA} 1.16",
        "-",
        _alone("glycerin"),
        _GLYCERIN_ROWS,
        0.0002,
        "same source",
    ),
    Check(
        "water activity, fructose",
        f"{_BAEZA} 2.15",
        "-",
        _alone("fructose"),
        _FRUCTOSE_ROWS,
        0.0002,
        "same source",
    ),
    *(_frozen(solute) for solute in _FREEZING),
    Check(
        "solubility of sucrose",
        _BUBNIK,
        "%",
        sucrose_solubility,
        _BUBNIK_ROWS,
        0.006,
        "same source",
    ),
    Check(
        "solubility of sucrose",
        _ANTOKOLSKAYA,
        "%",
        sucrose_solubility,
        _ANTOKOLSKAYA_ROWS,
        0.7,
        "independent",
    ),
)
