"""Reducing: boiling down to a weight."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.expected import Expected
from assistant.cook.kinds.awaited import awaited, planned
from assistant.cook.kinds.base import (
    Done,
    Enough,
    Glance,
    NotTaken,
    NotYet,
    Outcome,
    StageBase,
    Warned,
)
from assistant.cook.kinds.caption import caption
from assistant.cook.reply import Line, Quantity
from assistant.cook.stock import start_mass
from assistant.facts.asked import Awaited
from assistant.facts.events import Reading

WEIGHED_ENOUGH = 1.02
"""A reduction within a fiftieth of its target is there: a spoon sticks to more than that."""
BOILING_C = 100.0
"""What a thin syrup boils at, for planning. [degC]"""


class Reduce(StageBase):
    """Waits until what is in the pan weighs no more than a share of the base. [g/g]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["reduce"]
    to_share: Annotated[float, Field(gt=0.05, lt=1)]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """What is left, by weight."""
        start = start_mass(batch)
        weights = Expected(start * self.to_share, start * self.to_share, start, "g")
        return (planned(awaited(batch, "yield"), weights if start else None),)

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """target_weight : what is to be left [g]."""
        return {"target_weight": Quantity(value=start_g * self.to_share, unit="g")}

    def done(self, batch: Batch, at: datetime) -> Done:
        """Without a weight nobody knows how sweet it is."""
        return Warned(Line(id="without_weighing", rank="question"))

    def heard(self, after: Batch, event: Reading, warned: tuple[Line, ...]) -> Outcome | None:
        """It is weighed: on to the next stage once it is light enough."""
        if event.what != "yield":
            return None
        if event.dimension != "mass":
            return NotTaken(Line(id="weigh_reduction", rank="question"))
        target = start_mass(after) * self.to_share
        if event.base <= WEIGHED_ENOUGH * target:
            return Enough()
        left = Quantity(value=event.base - target, unit="g")
        return NotYet((Line(id="to_reduce", rank="answer", facts={"left": left}),))

    def glance(self, batch: Batch) -> Glance | None:
        """What it weighs, and what it is to weigh."""
        target = self.figures(start_mass(batch))["target_weight"]
        last = batch.last("yield")
        if last is None or last.stage != self.id:
            return Glance(caption("glance.boil_down_to"), target)
        weighs = Quantity(value=last.base, unit="g")
        note = caption("glance.down_to", target=target)
        return Glance(caption("glance.in_the_pan"), weighs, note=note)

    def takes_s(self) -> float | None:
        """Nobody can tell before how fast it boils."""
        return None

    def fire_c(self) -> float | None:
        """It boils. [degC]"""
        return BOILING_C
