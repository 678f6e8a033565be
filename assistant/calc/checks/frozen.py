"""Heat of frozen fruit against what was measured."""

from assistant.calc.answer import Check
from assistant.calc.frozen import fruit_heat

_RIEDEL = (
    "strawberries, measured by Riedel, as in ASHRAE Handbook, Refrigeration: 44 J/g at -20 and 367 "
    "at 0 degC; from memory"
)


def _thawed_from(temp_c: float) -> float:
    return fruit_heat(0.893, 0.0, -0.8) - fruit_heat(0.893, temp_c, -0.8)


CHECKS: tuple[Check, ...] = (
    Check(
        "heat that thaws frozen fruit",
        _RIEDEL,
        "J/g",
        _thawed_from,
        (((-20,), 323.0),),
        10.0,
        "independent",
    ),
)
