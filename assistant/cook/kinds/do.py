"""Doing: something that only the cook can say is done."""

from datetime import datetime
from typing import ClassVar, Literal

from assistant.cook.batch import Batch
from assistant.cook.kinds.base import Done, Glance, GoOn, StageBase
from assistant.facts.asked import Awaited


class Do(StageBase):
    """Waits until something has been done."""

    can_wait: ClassVar[bool] = True
    once: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ("done",)

    kind: Literal["do"]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """No reading."""
        return ()

    def done(self, batch: Batch, at: datetime) -> Done:
        """It is taken at the cook's word; the first time it may have moved the pH.

        Straining through pulp and letting down bring water in, whatever the recipe calls it.
        """
        before = [stage.id for stage in batch.stages[: batch.stage_index]]
        again = self.id in before or batch.bottled is not None
        return GoOn(batch if again else batch.stirred())

    def glance(self, batch: Batch) -> Glance | None:
        """Nothing to see but the sentence."""
        return None
