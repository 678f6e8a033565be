"""Heating: up to a temperature."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, StageBase, Warned
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited


class Heat(StageBase):
    """Waits for a temperature at or above the target. [degC]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    hot: ClassVar[bool] = True
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["heat"]
    target_c: Annotated[float, Field(ge=60, le=100)]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """A temperature; the target decides."""
        plain = awaited(batch, "temperature")
        return (plain.model_copy(update={"decides": (self.target_c,)}),)

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """target : the temperature to reach [degC]."""
        return {"target": Quantity(value=self.target_c, unit="degC", exact=True)}

    def done(self, batch: Batch, at: datetime) -> Done:
        """Without a temperature read the batch counts as not heated."""
        return Warned(Line(id="without_hold", rank="question"))
