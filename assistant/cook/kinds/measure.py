"""Measuring: a reading within the stage's window."""

from datetime import datetime
from typing import ClassVar, Literal, Self

from pydantic import model_validator

from assistant.calc.keeping import UNMEASURED_DAYS
from assistant.cook.batch import Batch
from assistant.cook.expected import expected_juice
from assistant.cook.finished_ph import is_stale
from assistant.cook.kinds.awaited import awaited, awaited_ph, planned
from assistant.cook.kinds.base import AskAgain, Done, Glance, StageBase, Warned
from assistant.cook.kinds.caption import caption, exactly
from assistant.cook.reply import Line, Quantity
from assistant.cook.stock import made_up_volume
from assistant.facts.asked import Awaited
from assistant.facts.events import What


class Measure(StageBase):
    """Waits for a reading between low and high (base unit)."""

    can_wait: ClassVar[bool] = True
    once: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["measure"]
    reading: What
    low: float
    high: float

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if not self.low < self.high:
            raise ValueError("low must be below high")
        return self

    @property
    def subject(self) -> str:
        """What it is about."""
        return self.reading

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """The reading, within the stage's window; a pH is not held to one."""
        if self.reading == "ph":
            return (awaited_ph(batch),)
        plain = awaited(batch, self.reading)
        if self.reading == "juice":
            plain = planned(plain, expected_juice(batch, "volume"))
        return (plain.model_copy(update={"low": self.low, "high": self.high}),)

    def done(self, batch: Batch, at: datetime) -> Done:
        """What all follows from must be measured; the rest can be gone without, at a told price."""
        if self.reading == batch.recipe.base:
            return AskAgain()
        if self.reading == "ph":
            days = Quantity(value=UNMEASURED_DAYS, unit="day")
            line = "without_fresh_ph" if is_stale(batch) else "without_ph"
            return Warned(Line(id=line, rank="question", facts={"days": days}))
        facts = {"what": self.reading}
        return Warned(Line(id="without_reading", rank="question", facts=facts))

    def glance(self, batch: Batch) -> Glance | None:
        """What to expect, where it follows from what is known; a reading off the mark otherwise."""
        match self.reading:
            case "ph":
                return self._ph(batch)
            case "juice" if batch.start is not None and batch.recipe.base != "juice":
                made_up = Quantity(value=made_up_volume(batch), unit="ml")
                note = caption("glance.measure_it")
                return Glance(caption("glance.juice_about"), made_up, note=note)
            case "brix":
                aim = exactly(batch.recipe.targets.brix, "Brix")
                return Glance(caption("glance.brix_aim"), aim)
            case _:
                return None

    def _ph(self, batch: Batch) -> Glance:
        targets = batch.recipe.targets
        low, high = f"{targets.ph_low:g}", f"{targets.ph_high:g}"
        last = batch.last("ph")
        if last is None or last.stage != self.id:
            return Glance(caption("glance.ph_wanted"), text=f"{low}–{high}")
        note = caption("glance.ph_aim", low=low, high=high)
        return Glance(caption("glance.ph"), exactly(last.base, "pH"), note=note)
