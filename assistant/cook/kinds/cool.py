"""Cooling: down to a temperature."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, Enough, Glance, NotYet, Outcome, StageBase, Warned
from assistant.cook.kinds.caption import caption, exactly
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited
from assistant.facts.events import Reading


class Cool(StageBase):
    """Waits for a temperature at or below the limit. [degC]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
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

    def heard(self, after: Batch, event: Reading, warned: tuple[Line, ...]) -> Outcome | None:
        """Cool enough, or still too warm."""
        if event.what != "temperature":
            return None
        if event.base <= self.below_c:
            return Enough()
        return NotYet((Line(id="still_warm", rank="answer", facts=self.figures()),))

    def glance(self, batch: Batch) -> Glance | None:
        """The thermometer's last word, and where it is to fall to."""
        last = batch.last("temperature")
        below = exactly(self.below_c, "degC")
        if last is None or last.stage != self.id:
            return Glance(caption("glance.cool_to"), below, note=caption("glance.or_less"))
        pan = exactly(last.base, "degC")
        note = caption("glance.cool_to_or_less", below=below)
        return Glance(caption("glance.in_the_pan"), pan, note=note)
