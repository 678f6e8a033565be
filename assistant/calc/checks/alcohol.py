"""Densities of alcohol and water against an older table than the formula's."""

from assistant.calc.alcohol import alcohol_density, mass_share_of
from assistant.calc.answer import Check

_NBS = "NBS Circular 19, alcohol and water at 20 degC, as in the CRC Handbook; from memory"
_ROWS = (
    ((0.1,), 0.98187), ((0.2,), 0.96864), ((0.3,), 0.95382), ((0.4,), 0.93518), ((0.5,), 0.91384),
    ((0.6,), 0.89113), ((0.7,), 0.86766), ((0.8,), 0.84344), ((0.9,), 0.81797), ((1.0,), 0.78934),
)  # fmt: skip
_OIML = "OIML R 22 (1973), table of 40 % vol: 948.05 kg/m3; from memory"


CHECKS: tuple[Check, ...] = (
    Check(
        "density of alcohol and water", _NBS, "g/ml", alcohol_density, _ROWS, 0.0003, "independent"
    ),
    Check(
        "density of a spirit",
        _OIML,
        "g/ml",
        lambda abv: alcohol_density(mass_share_of(abv)),
        (((40,), 0.94805),),
        0.0001,
        "same source",
    ),
)
