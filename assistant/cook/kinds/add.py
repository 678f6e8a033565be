"""Adding: an amount that the recipe reckons."""

from datetime import datetime
from typing import ClassVar, Literal

from assistant.cook.batch import Added, Batch
from assistant.cook.due import due, enough_in
from assistant.cook.kinds.awaited import awaited_amount
from assistant.cook.kinds.base import Done, Glance, GoOn, NotYet, Outcome, StageBase
from assistant.cook.kinds.caption import caption
from assistant.cook.parts import Name
from assistant.cook.reply import Line
from assistant.facts.asked import Awaited
from assistant.facts.events import Reading
from assistant.facts.stuff import PRESERVATIVES


class Add(StageBase):
    """Waits until an amount has gone in."""

    can_wait: ClassVar[bool] = True
    once: ClassVar[bool] = True
    taps: ClassVar[tuple[str, ...]] = ("done",)

    kind: Literal["add"]
    amount: Name

    @property
    def subject(self) -> str:
        """What it is about."""
        return self.amount

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """How much went in, where a cook can say so."""
        return awaited_amount(batch, self.amount)

    def done(self, batch: Batch, at: datetime) -> Done:
        """The planned amount is taken as what went in, since the cook named no other.

        Sorbate may have been dosed by the cook when it was asked about, and goes in once only.
        """
        planned = due(batch, self.amount)
        dosed = self.amount in PRESERVATIVES and batch.addition(self.amount) is not None
        if dosed or enough_in(batch, self.amount):
            return GoOn(batch)
        if planned is None:
            return GoOn(batch.stirred())
        unit: Literal["g", "ml"] = "ml" if planned.unit == "ml" else "g"
        return GoOn(batch.with_added(Added(self.amount, planned.value, unit, at)))

    def heard(self, after: Batch, event: Reading, warned: tuple[Line, ...]) -> Outcome | None:
        """Sugar splits in hot juice: its thermometer is told off above the recipe's cooling."""
        if self.amount != "main_sugar" or event.what != "temperature":
            return None
        return NotYet(warned or _too_warm(after, event))

    def glance(self, batch: Batch) -> Glance | None:
        """How much goes in."""
        planned = due(batch, self.amount)
        if planned is None:
            return None
        return Glance(
            caption("glance.add", stuff=batch.recipe.words(self.amount)), planned.likely()
        )


def _too_warm(batch: Batch, event: Reading) -> tuple[Line, ...]:
    cool = next((s for s in batch.recipe.stages if s.kind == "cool"), None)
    if cool is None or event.base <= cool.below_c:
        return ()
    return (Line(id="too_warm_for_sugar", rank="caution", facts=cool.figures()),)
