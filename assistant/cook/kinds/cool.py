"""Cooling: down to a temperature."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, StageBase, Warned
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited


class Cool(StageBase):
    """Waits for a temperature at or below the limit. [degC]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    hot: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["cool"]
    below_c: Annotated[float, Field(ge=0, le=80)]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """A temperature."""
        return (awaited(batch, "temperature"),)

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """below : the temperature to fall to [degC]."""
        return {"below": Quantity(value=self.below_c, unit="degC", exact=True)}

    def done(self, batch: Batch, at: datetime) -> Done:
        """Warm juice takes the sugar too, at a price."""
        return Warned(Line(id="without_cooling", rank="question", facts=self.figures()))
