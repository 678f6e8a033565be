"""Resting: time that only passes."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.kinds.base import Done, Due, Glance, GoOn, StageBase, Warned
from assistant.cook.kinds.caption import caption
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited

REST_ENOUGH = 0.8
"""Share of a resting time after which nobody quibbles."""


class Rest(StageBase):
    """Waits until the cook says so, and minds the time. [min]"""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ("done",)

    kind: Literal["rest"]
    minutes: Annotated[float, Field(gt=0, le=2880)]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """No reading."""
        return ()

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """rest : how long [min]."""
        return {"rest": Quantity(value=self.minutes, unit="min")}

    def done(self, batch: Batch, at: datetime) -> Done:
        """Too soon is said once; a short rest counts as rested all the same."""
        passed = max(0.0, (at - batch.entered_at).total_seconds())
        if passed >= REST_ENOUGH * self.minutes * 60:
            return GoOn(batch)
        facts = {"passed": Quantity(value=round(passed), unit="s"), **self.figures()}
        return Warned(Line(id="rest_short", rank="question", facts=facts), skips=False)

    def glance(self, batch: Batch) -> Glance | None:
        """How long it rests."""
        return Glance(caption("glance.rest"), self.figures()["rest"])

    def due(self, batch: Batch, now: datetime) -> Due | None:
        """A rest that is over wants its "done"."""
        ends = batch.entered_at + timedelta(minutes=self.minutes)
        line = Line(id="rest_over", rank="do", facts=self.figures())
        return Due("rest", batch.entered_at, ends, line)

    def left(self, batch: Batch, at: datetime) -> Line | None:
        """What is left of it."""
        passed = (at - batch.entered_at).total_seconds()
        left = Quantity(value=max(0, round(self.minutes * 60 - passed)), unit="s")
        return Line(id="rest_left", rank="answer", facts={"left": left})

    def takes_s(self) -> float | None:
        """Its own time. [s]"""
        return self.minutes * 60
