"""Adding: an amount that the recipe reckons."""

from datetime import datetime
from typing import ClassVar, Literal

from assistant.cook.amounts import amount
from assistant.cook.batch import Added, Batch
from assistant.cook.kinds.awaited import awaited_amount
from assistant.cook.kinds.base import Done, GoOn, StageBase
from assistant.cook.parts import Name
from assistant.facts.asked import Awaited


class Add(StageBase):
    """Waits until an amount has gone in."""

    can_wait: ClassVar[bool] = True
    once: ClassVar[bool] = True
    hot: ClassVar[bool] = False
    taps: ClassVar[tuple[str, ...]] = ("done",)

    kind: Literal["add"]
    amount: Name

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """How much went in, where a cook can say so."""
        return awaited_amount(batch, self.amount)

    def done(self, batch: Batch, at: datetime) -> Done:
        """The planned amount is taken as what went in, since the cook named no other.

        Sorbate may have been dosed by the cook when it was asked about, and goes in once only.
        """
        planned = amount(batch, self.amount)
        dosed = self.amount == "sorbate" and batch.addition("sorbate") is not None
        if planned is None or dosed:
            return GoOn(batch)
        unit: Literal["g", "ml"] = "ml" if planned.unit == "ml" else "g"
        return GoOn(batch.with_added(Added(self.amount, planned.value, unit, at)))
