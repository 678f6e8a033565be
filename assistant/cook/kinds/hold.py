"""Holding: time at or above a temperature, counted from the readings."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from assistant.calc.watched import longest_gap
from assistant.cook.batch import Batch
from assistant.cook.holding import (
    Held,
    current_run,
    in_a_dip,
    unwatched_s,
    would_complete_at,
)
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, Due, Enough, Glance, NotYet, Outcome, StageBase, Warned
from assistant.cook.kinds.caption import caption, exactly
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited
from assistant.facts.events import Reading

READ_AGAIN_S = 45.0
"""A hold is only worth what its readings show, so one is asked for at least this often."""


class Hold(StageBase):
    """Waits until the readings show enough time near the target.

    target_c : temperature to stay above; seconds : how long [s]; ceiling_c : no hotter than this
    """

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["hold"]
    target_c: Annotated[float, Field(ge=60, le=100)]
    seconds: Annotated[float, Field(gt=0, le=7200)]
    ceiling_c: Annotated[float, Field(ge=60, le=105)]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.ceiling_c <= self.target_c:
            raise ValueError(f"stage {self.id!r} has its ceiling at or below its target")
        return self

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """A temperature; one that would complete the hold is asked back."""
        decides = (self.target_c,)
        confirm = would_complete_at(batch, self, at)
        plain = awaited(batch, "temperature")
        return (plain.model_copy(update={"decides": decides, "confirm": confirm}),)

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """target : the temperature to stay above [degC]; seconds : for how long [s]."""
        return {
            "target": Quantity(value=self.target_c, unit="degC", exact=True),
            "seconds": Quantity(value=self.seconds, unit="s"),
        }

    def done(self, batch: Batch, at: datetime) -> Done:
        """Without readings the hold counts as left out."""
        return Warned(Line(id="without_hold", rank="question"))

    def heard(self, after: Batch, event: Reading, warned: tuple[Line, ...]) -> Outcome | None:
        """Held long enough, or what is counted of it."""
        if event.what != "temperature":
            return None
        run = current_run(after, self)
        counted = Quantity(value=round(run.seconds), unit="s")
        if run.complete:
            spoke = {"counted": counted, "target": self.figures()["target"]}
            done = Line(id="held", rank="answer", facts=spoke)
            margin = Line(id="held_margin", rank="detail", facts={"times": f"{run.margin:.1f}"})
            return Enough((done, *warned, margin))
        target = self.figures()["target"]
        if in_a_dip(after, self):
            dip = {"target": target, "counted": counted}
            line_id = "hold_dip" if run.seconds else "hold_dip_at_once"
            line = Line(id=line_id, rank="caution", facts=dip)
        elif event.base < self.target_c:
            line = Line(id="hold_lost", rank="caution", facts={"target": target})
        elif run.seconds >= self.seconds:
            line = Line(id="hold_margin_short", rank="answer", facts={"counted": counted})
        else:
            facts = {"counted": counted, "left": self._seconds_left(run)}
            line = Line(id="hold_on", rank="answer", facts=facts)
        silent = unwatched_s(after, self)
        if silent is not None:
            passed = Quantity(value=round(silent), unit="s")
            line = Line(id="hold_unwatched", rank="caution", facts={"passed": passed})
        if not warned and event.base > self.ceiling_c:
            ceiling = Quantity(value=self.ceiling_c, unit="degC", exact=True)
            warned = (Line(id="hold_hot", rank="caution", facts={"ceiling": ceiling}),)
        return NotYet((line, *warned))

    def glance(self, batch: Batch) -> Glance | None:
        """The run that goes on now: what is counted of it, by what was read."""
        target = exactly(self.target_c, "degC")
        last = batch.last("temperature")
        if last is not None and last.base < self.target_c:
            note = caption("glance.back_to", target=target)
            return Glance(caption("glance.too_cold"), exactly(last.base, "degC"), note=note)
        needed = Quantity(value=self.seconds, unit="s")
        note = caption("glance.counted_of", needed=needed, target=target)
        seconds = round(current_run(batch, self).seconds)
        return Glance(caption("glance.held"), text=f"{seconds}", unit="s", note=note)

    def due(self, batch: Batch, now: datetime) -> Due | None:
        """A running hold wants the next reading."""
        last = batch.last("temperature")
        if last is None:
            return None
        passed = Quantity(value=round((now - last.at).total_seconds()), unit="s")
        line = Line(id="read_again", rank="do", facts={"passed": passed})
        ends = last.at + timedelta(seconds=min(READ_AGAIN_S, longest_gap(self.seconds)))
        return Due("thermometer", last.at, ends, line)

    def left(self, batch: Batch, at: datetime) -> Line | None:
        """What the run that goes on now still lacks."""
        left = self._seconds_left(current_run(batch, self))
        return Line(id="hold_left", rank="answer", facts={"left": left})

    def _seconds_left(self, run: Held) -> Quantity:
        return Quantity(value=max(1, round(self.seconds - run.seconds)), unit="s")

    def takes_s(self) -> float | None:
        """Its own time. [s]"""
        return self.seconds

    def fire_c(self) -> float | None:
        """At its target. [degC]"""
        return self.target_c
