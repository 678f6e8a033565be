"""Specific heats against other published forms, and the forecast against Newton's law itself."""

from math import exp

from assistant.calc.answer import Check
from assistant.calc.forecast import forecast
from assistant.calc.heat import cp_component, cp_fruit, cp_sugar, cp_syrup

_RIEDEL = (
    "measured by Riedel, means of 4 to 32 C, as in ASHRAE Handbook, Refrigeration, table of frozen "
    "foods, from memory"
)
_SIEBEL = (
    "Siebel (1892), as in ASHRAE: 0.837 + 3.348 times the water share, which reckons dry matter as "
    "half of what Choi & Okos do"
)
_BUBNIK = (
    "Bubnik, Kadlec, Urban & Bruhns, Sugar Technologists Manual (1995): 4.1868 - 0.0297 B + "
    "4.6e-5 B P + 7.5e-5 B T, B and P in per cent; from memory"
)
_CHOI_OKOS = (
    "Choi & Okos (1986) by components, water and carbohydrate; it lies up to 0.15 lower at 60 Brix"
)
_WATER = "CRC Handbook of Chemistry and Physics, properties of water; from memory"
_SUCROSE = "sucrose at 25 C, 424.3 J/(mol K) over 342.3 g/mol; from memory"
_NEWTON = "Newton's law of cooling, computed: room 20 C, time constant 1800 s, from 80 C"


def _cooling_to(target_c: float) -> float:
    readings = [(t, 20.0 + 60.0 * exp(-t / 1800.0)) for t in (0.0, 120.0, 240.0, 360.0)]
    found = forecast(readings).time_to(target_c)
    return found.likely + 360.0 if found else float("inf")


CHECKS: tuple[Check, ...] = (
    Check(
        "specific heat of fruit",
        _RIEDEL,
        "J/(g K)",
        cp_fruit,
        (
            ((0.893,), 3.94),
            ((0.827,), 3.73),
            ((0.770,), 3.60),
            ((0.803,), 3.65),
            ((0.851,), 3.77),
            ((0.838,), 3.73),
            ((0.929,), 4.02),
        ),
        0.08,
        "independent",
    ),
    Check(
        "specific heat of fruit",
        _SIEBEL,
        "J/(g K)",
        cp_fruit,
        (((0.85,), 3.683), ((0.90,), 3.850), ((0.95,), 4.018)),
        0.15,
        "other form",
    ),
    Check(
        "specific heat of syrup",
        _BUBNIK,
        "J/(g K)",
        cp_syrup,
        (((20, 20), 3.7148), ((40, 20), 3.2428), ((60, 20), 2.7708), ((60, 80), 3.0408)),
        0.005,
        "same source",
    ),
    Check(
        "specific heat of syrup",
        _CHOI_OKOS,
        "J/(g K)",
        cp_syrup,
        (((20, 20), 3.661), ((40, 20), 3.143), ((60, 20), 2.625)),
        0.2,
        "other form",
        catches=0.1,
    ),
    Check(
        "specific heat of water",
        _WATER,
        "J/(g K)",
        lambda temp_c: cp_component("water", temp_c),
        (((20,), 4.1818), ((40,), 4.1785), ((60,), 4.1843), ((80,), 4.1963)),
        0.02,
        "independent",
    ),
    Check(
        "specific heat of dry sugar",
        _SUCROSE,
        "J/(g K)",
        cp_sugar,
        (((25,), 1.2396),),
        0.01,
        "independent",
    ),
    Check(
        "time to cool to a temperature",
        _NEWTON,
        "s",
        _cooling_to,
        (((60.0,), 729.8), ((50.0,), 1247.7), ((40.0,), 1977.5)),
        5.0,
        "arithmetic",
    ),
)
