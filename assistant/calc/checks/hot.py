"""Density past 80 degC, as far as anybody has told it: for water alone."""

from assistant.calc.answer import Check
from assistant.calc.density_hot import hot_density

_CRC = "CRC Handbook of Chemistry and Physics, density of water; from memory"

CHECKS: tuple[Check, ...] = (
    Check(
        "density past 80 degC, water",
        _CRC,
        "g/ml",
        lambda temp_c: hot_density(0.0, temp_c).likely,
        (((85,), 0.96861), ((90,), 0.96531), ((95,), 0.96189), ((100,), 0.95835)),
        0.0002,
        "independent",
    ),
)
