"""How long a batch takes where that can be told: heating, hold, rests, cooling."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.calc.bounds import inside
from assistant.calc.cost import Hob, heating_kwh
from assistant.calc.forecast import Curve
from assistant.calc.heat import mixing_temperature
from assistant.calc.spread import Spread, carry
from assistant.cook import Batch
from assistant.cook.kinds import Cool, Heat, Hold, Stage
from assistant.planning.pan import ROOM_C, Contents, contents

POWER_SHARE = 1 / 3
"""A ring gives its rated power or less, and a pan takes it up well or badly. This project's own
allowance, each way. [-]"""
FRUIT_C = Spread(5.0, 20.0, 25.0)
"""From the fridge, or from a warm porch. [C]"""
COOLING_S = Spread(1_800.0, 3_600.0, 7_200.0)
"""Time constant of a pan left standing: a small one, one of a few litres, a big one under its lid.
This project's own estimate, no source. [s]"""


@dataclass(frozen=True)
class Span:
    """One stretch of time. [s]

    what : "heating", "cooling", or the kind of stage whose time the recipe fixes
    """

    what: str
    seconds: Spread


@dataclass(frozen=True)
class Duration:
    """The stretches that can be told, and what is left out.

    untold : kinds of stage that take time nobody can tell before ("reduce")
    """

    spans: tuple[Span, ...]
    untold: tuple[str, ...]

    @property
    def total(self) -> Spread:
        """All stretches together. [s]"""
        told = [s.seconds for s in self.spans]
        return Spread(
            sum(s.low for s in told), sum(s.likely for s in told), sum(s.high for s in told)
        )


def duration(batch: Batch, power_w: float = 1500.0, hob: Hob = "electric") -> Duration:
    """The time of a batch on paper.

    power_w : of the ring, as its plate says [W]; hob : gas, electric or induction
    Returns the stretches. Valid for 200 to 20 000 W, else OutOfRange.
    """
    inside("power", power_w, 200.0, 20_000.0, "W")
    stages = [s for s in batch.recipe.stages if s.when is None]
    found: list[Span] = []
    pan = contents(batch)
    if pan is not None:
        found.append(Span("heating", heating_s(pan, power_w, hob)))
    found.extend(_fixed(stages))
    found.extend(_cooling(batch))
    untold = dict.fromkeys(s.kind for s in stages if s.takes_s() is None)
    return Duration(tuple(found), tuple(untold))


def heating_s(pan: Contents, power_w: float, hob: Hob) -> Spread:
    """Time to warm the pan to its target, by the energy it takes and what the ring gives. [s]

    pan : what is in it; power_w : of the ring [W]; hob : its kind. The pan's own metal and what
    the air takes are within the spread.
    """

    def seconds(power: float, fruit_c: float) -> float:
        parts = pan.parts(fruit_c)
        mass = sum(p.mass_g for p in parts)
        cp = sum(p.mass_g * p.cp for p in parts) / mass
        from_c = min(mixing_temperature(parts), pan.target_c)
        return heating_kwh(mass, cp, from_c, pan.target_c, hob) * 3.6e6 / power

    return carry(seconds, Spread.within(power_w, POWER_SHARE), FRUIT_C)


def _fixed(stages: Sequence[Stage]) -> list[Span]:
    """The time that the recipe itself fixes, all stages of a kind together."""
    kinds = dict.fromkeys(s.kind for s in stages if s.takes_s())
    sums = {kind: sum(s.takes_s() or 0.0 for s in stages if s.kind == kind) for kind in kinds}
    return [Span(kind, Spread.exactly(seconds)) for kind, seconds in sums.items()]


def _cooling(batch: Batch) -> list[Span]:
    stages = batch.recipe.stages
    warmest = max((s.target_c for s in stages if isinstance(s, Heat | Hold)), default=ROOM_C)
    coolest = min((s.below_c for s in stages if isinstance(s, Cool)), default=warmest)
    if coolest >= warmest or coolest <= ROOM_C:
        return []
    way = warmest - ROOM_C

    def seconds(constant: float) -> float:
        return Curve(warmest, -way / constant, ROOM_C).when(coolest)

    return [Span("cooling", carry(seconds, COOLING_S))]
