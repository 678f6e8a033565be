"""Bottling: so many bottles of some size."""

from datetime import datetime
from typing import ClassVar, Literal

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited
from assistant.cook.kinds.base import AskAgain, Done, Glance, StageBase
from assistant.cook.kinds.caption import caption
from assistant.cook.reply import Quantity
from assistant.cook.stock import HALF_LITRE, bottles_for, syrup
from assistant.facts.asked import Awaited


class Bottling(StageBase):
    """Waits for the number of bottles."""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = True
    taps: ClassVar[tuple[str, ...]] = ()

    kind: Literal["bottle"]

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """The bottles, or the syrup there is."""
        return (awaited(batch, "bottles"), awaited(batch, "yield"))

    def done(self, batch: Batch, at: datetime) -> Done:
        """It wants a count."""
        return AskAgain()

    def glance(self, batch: Batch) -> Glance | None:
        """How many bottles it will be."""
        stock = syrup(batch)
        if stock is None:
            return None
        note = caption("glance.of_size", size=Quantity(value=HALF_LITRE, unit="ml"))
        return Glance(caption("glance.bottles_about"), text=f"{bottles_for(stock)}", note=note)
