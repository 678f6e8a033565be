"""What a batch costs, in whatever money the prices were given in."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Literal

from assistant.calc.bounds import inside

Hob = Literal["gas", "electric", "induction"]

HOB_SHARE: dict[Hob, float] = {"gas": 0.40, "electric": 0.74, "induction": 0.84}
"""Share of the energy that gets into the pan. US Department of Energy cooking tests, read
second-hand; a small pan on a big ring gets less. [-]"""


@dataclass(frozen=True)
class Cost:
    """What a batch costs. [money]

    lines : each part by name, dearest first
    """

    total: float
    per_bottle: float
    lines: dict[str, float]

    def per_glass(self, glasses_per_bottle: float) -> float:
        """Cost of one glass. [money]

        >>> Cost(12.0, 2.0, {}).per_glass(20)
        0.1
        """
        return self.per_bottle / inside("glasses per bottle", glasses_per_bottle, 1e-9, inf)


def cost_of(amount: float, pack_amount: float, pack_price: float) -> float:
    """Price of an amount taken from a pack. Proportion.

    amount, pack_amount : used and in the pack, in one unit [any]
    pack_price : price of the pack [money]
    Returns price [money]. OutOfRange for amounts or prices below 0, or an empty pack.

    >>> cost_of(800, 1000, 1.10)
    0.88
    """
    inside("amount", amount, 0.0, inf)
    inside("price", pack_price, 0.0, inf)
    return amount / inside("pack", pack_amount, 1e-9, inf) * pack_price


def heating_kwh(mass_g: float, cp: float, from_c: float, to_c: float, hob: Hob) -> float:
    """Energy bought to warm a pan, with what the hob loses. m c dT / share.

    mass_g, cp : of the contents [g], [J/(g K)]
    from_c, to_c : temperatures, warming only [C]
    hob : gas, electric or induction; shares by US Department of Energy tests [-]
    Returns energy [kWh]; keeping it hot and steam come on top.
    Valid for 0 to 100 C and specific heats 0.1 to 5, else OutOfRange.

    >>> round(heating_kwh(2000, 3.9, 20, 75, "induction"), 2)
    0.14
    """
    inside("mass", mass_g, 0.0, 1e7, "g")
    inside("specific heat", cp, 0.1, 5.0, "J/(g K)")
    inside("end temperature", to_c, inside("start temperature", from_c, 0.0, 100.0, "C"), 100.0)
    return mass_g * cp * (to_c - from_c) / HOB_SHARE[hob] / 3.6e6


def batch_cost(lines: Mapping[str, float], bottles: float) -> Cost:
    """What a batch and one bottle of it cost. Sum and division.

    lines : price of each part by name, bottles and energy among them [money]
    bottles : filled; a part-filled one counts as its share [-]
    Returns the cost. OutOfRange for prices below 0 or no bottles.

    >>> batch_cost({"fruit": 4.5, "sugar": 0.9, "bottles": 3.6}, 6).per_bottle
    1.5
    """
    for name, price in lines.items():
        inside(f"price of {name}", price, 0.0, inf)
    total = sum(lines.values())
    dearest_first = dict(sorted(lines.items(), key=lambda line: -line[1]))
    return Cost(total, total / inside("bottles", bottles, 1e-9, inf), dearest_first)
