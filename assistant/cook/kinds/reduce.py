"""Reducing: boiling down to a weight."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, StageBase, Warned
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited


class Reduce(StageBase):
    """Waits until what is in the pan weighs no more than a share of the base. [g/g]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    hot: ClassVar[bool] = True
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["reduce"]
    to_share: Annotated[float, Field(gt=0.05, lt=1)]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """What is left, by weight."""
        return (awaited(batch, "yield"),)

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """target_weight : what is to be left [g]."""
        return {"target_weight": Quantity(value=start_g * self.to_share, unit="g")}

    def done(self, batch: Batch, at: datetime) -> Done:
        """Without a weight nobody knows how sweet it is."""
        return Warned(Line(id="without_weighing", rank="question"))
