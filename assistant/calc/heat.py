"""Heat: what things need to warm up, and where a mixture ends. `forecast` says when.

Specific heats are in J/(g K), which is kJ/(kg K).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal

from assistant.calc.bounds import inside

LOW_C, HIGH_C = 0.0, 100.0
"""The formulas of this module hold between these. [C]"""

SOLUTION_HEAT_J_G = 5400 / 342.30
"""Heat that dissolving sucrose takes up: 5.4 kJ/mol, a tabulated value read second-hand. [J/g]"""

STEEL_CP = 0.50
"""Stainless steel near room temperature: from memory. [J/(g K)]"""

Component = Literal["water", "carbohydrate", "protein", "fat", "fibre", "ash"]

_CHOI_OKOS: dict[Component, tuple[float, float, float]] = {
    "water": (4.1762, -9.0864e-5, 5.4731e-6),
    "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6),
    "protein": (2.0082, 1.2089e-3, -1.3129e-6),
    "fat": (1.9842, 1.4733e-3, -4.8008e-6),
    "fibre": (1.8459, 1.8306e-3, -4.6509e-6),
    "ash": (1.0926, 1.8896e-3, -3.6817e-6),
}
"""Terms in T^0, T^1, T^2. Some printed copies swap the signs of water, which then falls with
temperature, and repeat 1.9625e-6 in the carbohydrate line: both are misprints. Water, fibre and the
last carbohydrate term are from memory."""


@dataclass(frozen=True)
class Part:
    """Something that goes into the pan, or the pan. [g], [J/(g K)], [C]"""

    mass_g: float
    cp: float
    temp_c: float


def cp_component(component: Component, temp_c: float) -> float:
    """Specific heat of one component of food.

    Choi & Okos (1986), as in ASHRAE Handbook, Refrigeration; see the misprints noted above.

    component : water, carbohydrate, protein, fat, fibre or ash [-]
    temp_c : temperature [C]
    Returns specific heat [J/(g K)]. Valid from 0 to 100 C, else OutOfRange.

    >>> round(cp_component("water", 50), 2)
    4.19
    """
    inside("temperature", temp_c, LOW_C, HIGH_C, "C")
    a, b, c = _CHOI_OKOS[component]
    return a + b * temp_c + c * temp_c**2


def cp_fruit(water_share: float, temp_c: float = 20.0) -> float:
    """Specific heat of fruit: its water, and the rest as carbohydrate.

    Choi & Okos (1986), as `cp_component`.

    water_share : water as a share of the mass [-]
    temp_c : temperature [C]
    Returns specific heat [J/(g K)]. Valid for shares 0.5 to 1 and 0 to 100 C, else OutOfRange.

    >>> round(cp_fruit(0.9095, 5), 2)
    3.94
    """
    inside("water share", water_share, 0.5, 1.0)
    dry = cp_component("carbohydrate", temp_c)
    return water_share * cp_component("water", temp_c) + (1.0 - water_share) * dry


def cp_syrup(brix: float, temp_c: float = 20.0, purity: float = 1.0) -> float:
    """Specific heat of a sucrose solution: 4184 - 2971 B + 460 B P + 7.5 B T, in J/(kg K).

    The sugar technologists' formula, as used in a crystalliser model of 2005; the same as Bubnik et
    al., Sugar Technologists Manual (1995), in other units (from memory).

    brix : dry substance [mass %]
    temp_c : temperature [C]
    purity : sucrose in the dry substance [-]
    Returns specific heat [J/(g K)]. Valid for 0 to 85 Brix, 0 to 100 C, purity 0 to 1, else
    OutOfRange.

    >>> round(cp_syrup(60, 70), 2)
    2.99
    """
    dry = inside("Brix", brix, 0.0, 85.0) / 100.0
    inside("purity", purity, 0.0, 1.0)
    inside("temperature", temp_c, LOW_C, HIGH_C, "C")
    return (4184.0 - 2971.0 * dry + 460.0 * dry * purity + 7.5 * dry * temp_c) / 1000.0


def cp_sugar(temp_c: float = 20.0) -> float:
    """Specific heat of dry crystalline sucrose: 0.2712 + 0.00103 t, in kcal/(kg C).

    Mohos, Confectionery and Chocolate Engineering (2010), after Table A2.3.

    temp_c : temperature [C]
    Returns specific heat [J/(g K)]. Valid from 0 to 100 C, else OutOfRange.

    >>> round(cp_sugar(20), 2)
    1.22
    """
    inside("temperature", temp_c, LOW_C, HIGH_C, "C")
    return (0.2712 + 0.00103 * temp_c) * 4.1868


def mixing_temperature(parts: Sequence[Part], dissolved_sugar_g: float = 0.0) -> float:
    """Where everything poured together ends, with nothing lost to the room.

    T = (sum m c T - heat of solution) / sum m c. Energy balance; the real pan is a little cooler.

    parts : what goes in, the pan among it [g], [J/(g K)], [C]
    dissolved_sugar_g : crystalline sugar among it that dissolves, which takes up heat [g]
    Returns temperature [C].
    Valid for parts of 0 to 100 C with positive mass and specific heat, else OutOfRange.

    >>> warm, cold = Part(500, 4.19, 80), Part(500, 4.19, 20)
    >>> mixing_temperature([warm, cold])
    50.0
    """
    for part in parts:
        inside("mass", part.mass_g, 0.0, 1e7, "g")
        inside("specific heat", part.cp, 0.1, 5.0, "J/(g K)")
        inside("temperature", part.temp_c, LOW_C, HIGH_C, "C")
    sugar = sum(part.mass_g for part in parts)
    inside("dissolved sugar", dissolved_sugar_g, 0.0, sugar, "g")
    capacity = inside("heat capacity", sum(p.mass_g * p.cp for p in parts), 1e-9, inf, "J/K")
    heat = sum(p.mass_g * p.cp * p.temp_c for p in parts)
    return (heat - SOLUTION_HEAT_J_G * dissolved_sugar_g) / capacity


def after_sugar(
    mass_g: float, brix: float, temp_c: float, sugar_g: float, sugar_temp_c: float = 20.0
) -> float:
    """Temperature after dry sugar is stirred into a hot syrup or juice and dissolves.

    Energy balance of `mixing_temperature`, with `cp_syrup` and `cp_sugar`.

    mass_g : syrup or juice in the pan [g]
    brix : its sugar [mass %]
    temp_c : its temperature [C]
    sugar_g : dry sugar stirred in [g]
    sugar_temp_c : temperature of the sugar [C]
    Returns temperature [C]. Valid as `cp_syrup`, else OutOfRange.

    >>> round(after_sugar(1000, 10, 80, 1000), 1)
    62.9
    """
    liquid = Part(mass_g, cp_syrup(brix, temp_c), temp_c)
    sugar = Part(inside("sugar", sugar_g, 0.0, 1e7, "g"), cp_sugar(sugar_temp_c), sugar_temp_c)
    return mixing_temperature([liquid, sugar], dissolved_sugar_g=sugar_g)


def pour_temperature(parts: Sequence[Part], mass_g: float, cp: float, target_c: float) -> float:
    """How warm one more part must be poured for the mixture to end at a temperature.

    Energy balance of `mixing_temperature`, solved for the part.

    parts : what is in the pan already [g], [J/(g K)], [C]
    mass_g, cp : of the part to pour [g], [J/(g K)]
    target_c : temperature wanted [C]
    Returns temperature of the part [C]; OutOfRange when it would be below 0 or above 100 C.

    >>> pour_temperature([Part(500, 4.19, 20)], 500, 4.19, target_c=50)
    80.0
    """
    inside("temperature", target_c, LOW_C, HIGH_C, "C")
    capacity = inside("mass", mass_g, 1e-9, 1e7, "g") * inside("specific heat", cp, 0.1, 5.0)
    wanting = sum(p.mass_g * p.cp * (target_c - p.temp_c) for p in parts)
    needed_c = target_c + wanting / capacity
    return inside("temperature to pour it at", needed_c, LOW_C, HIGH_C, "C")
