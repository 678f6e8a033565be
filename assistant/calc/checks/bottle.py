"""Gas that fermenting makes: how much of it water holds, against a compilation of others."""

from assistant.calc.answer import Check
from assistant.calc.bottle_pressure import henry_mpa
from assistant.calc.density import density
from assistant.calc.water import WATER_MOLAR

_SANDER = (
    "Sander (2023), Atmos. Chem. Phys. 23, 10901: 3.4e-4 mol/(m3 Pa) at 25 degC, d ln H/d(1/T) "
    "2400 K, as most of its entries"
)


def _solubility(temp_c: float) -> float:
    """In units of 1e-4 mol/(m3 Pa)."""
    moles_m3 = 1e6 * density(0.0, temp_c) / WATER_MOLAR
    return moles_m3 / (henry_mpa(temp_c) * 1e6) * 1e4


CHECKS: tuple[Check, ...] = (
    Check(
        "carbon dioxide in water",
        _SANDER,
        "1e-4 mol/(m3 Pa)",
        _solubility,
        (((25,), 3.40), ((15,), 4.49), ((10,), 5.21)),
        0.15,
        "independent",
    ),
)
