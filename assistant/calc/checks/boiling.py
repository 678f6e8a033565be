"""Vapour pressure, air and boiling points against published figures."""

from assistant.calc.answer import Check
from assistant.calc.boiling import air_pressure, boils_at, vapour_pressure

_CRC = "CRC Handbook of Chemistry and Physics, vapour pressure of water; from memory"
_ISO = "ISO 2533:1975, Standard Atmosphere; from memory"
_MCGEE = "McGee, On Food and Cooking (2004): 85 % sugar boils at 113 C, 90 % at 125 C"
_CONFECTIONERS = (
    "a table of confectioners, of unknown origin, read at second hand; it lies above what was "
    "measured"
)

CHECKS: tuple[Check, ...] = (
    Check(
        "vapour pressure of water",
        _CRC,
        "kPa",
        vapour_pressure,
        (((25,), 3.17), ((50,), 12.35), ((75,), 38.6), ((100,), 101.3), ((110,), 143.3)),
        0.2,
        "independent",
        catches=0.01,
    ),
    Check(
        "pressure of the air by height",
        _ISO,
        "kPa",
        air_pressure,
        (((0,), 101.325), ((1000,), 89.88), ((2000,), 79.50), ((3000,), 70.11)),
        0.05,
        "same source",
    ),
    Check(
        "boiling point of a syrup",
        _MCGEE,
        "C",
        boils_at,
        (((85,), 113.0), ((90,), 125.0)),
        3.0,
        "independent",
    ),
    Check(
        "boiling point of a syrup",
        _CONFECTIONERS,
        "C",
        boils_at,
        (((30,), 101.0), ((50,), 102.0), ((60,), 103.0), ((70,), 106.5), ((76,), 109.4)),
        3.0,
        "other form",
    ),
)
