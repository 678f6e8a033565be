"""Bottling: so many bottles of some size."""

from datetime import datetime
from typing import ClassVar, Literal

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import AskAgain, Done, StageBase
from assistant.facts.asked import Awaited


class Bottling(StageBase):
    """Waits for the number of bottles."""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = True
    hot: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["bottle"]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """The bottles, or the syrup there is."""
        return (awaited(batch, "bottles"), awaited(batch, "yield"))

    def done(self, batch: Batch, at: datetime) -> Done:
        """It wants a count."""
        return AskAgain()
