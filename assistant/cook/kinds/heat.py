"""Heating: up to a temperature."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, Enough, Glance, NotYet, Outcome, StageBase, Warned
from assistant.cook.kinds.caption import caption, exactly
from assistant.cook.reply import Line, Quantity
from assistant.cook.warming import seconds_to
from assistant.facts.asked import Awaited
from assistant.facts.events import Reading


class Heat(StageBase):
    """Waits for a temperature at or above the target. [degC]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
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

    def heard(self, after: Batch, event: Reading, warned: tuple[Line, ...]) -> Outcome | None:
        """Hot enough, or the degrees that are missing."""
        if event.what != "temperature":
            return None
        if event.base >= self.target_c:
            return Enough(warned)
        return NotYet((self._to_go(after, max(1, round(self.target_c - event.base))),))

    def _to_go(self, after: Batch, left: int) -> Line:
        """Degrees still missing, with the minutes they will take once two readings tell them."""
        seconds = seconds_to(after, self.target_c)
        if seconds is None:
            return Line(id="to_go", rank="answer", facts={"left": left})
        time = Quantity(value=seconds, unit="s")
        return Line(id="to_go_in", rank="answer", facts={"left": left, "time": time})

    def glance(self, batch: Batch) -> Glance | None:
        """The thermometer's last word, and how far it is."""
        last = batch.last("temperature")
        target = exactly(self.target_c, "degC")
        if last is None or last.stage != self.id:
            return Glance(caption("glance.warm_to"), target, note=caption("glance.call_out"))
        left = max(1, round(self.target_c - last.base))
        seconds = seconds_to(batch, self.target_c)
        note = caption("glance.to_go", left=left, target=target)
        if seconds is not None:
            time = Quantity(value=seconds, unit="s")
            note = caption("glance.to_go_in", left=left, target=target, time=time)
        return Glance(caption("glance.in_the_pan"), exactly(last.base, "degC"), note=note)

    def fire_c(self) -> float | None:
        """To its target. [degC]"""
        return self.target_c
