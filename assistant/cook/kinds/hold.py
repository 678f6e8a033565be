"""Holding: time at or above a temperature, counted from the readings."""

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from assistant.cook.batch import Batch
from assistant.cook.holding import would_complete_at
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import Done, StageBase, Warned
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited


class Hold(StageBase):
    """Waits until the readings show enough time near the target.

    target_c : temperature to stay above; seconds : how long [s]; ceiling_c : no hotter than this
    """

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = False
    hot: ClassVar[bool] = True
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["hold"]
    target_c: Annotated[float, Field(ge=60, le=100)]
    seconds: Annotated[float, Field(gt=0, le=7200)]
    ceiling_c: Annotated[float, Field(ge=60, le=105)]

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
