"""Options: whether an optional ingredient goes in."""

from datetime import datetime
from typing import ClassVar, Literal

from assistant.cook.batch import Batch
from assistant.cook.kinds.awaited import awaited_amount
from assistant.cook.kinds.base import AskAgain, Done, Glance, StageBase
from assistant.cook.parts import Name
from assistant.facts.asked import Awaited


class Option(StageBase):
    """Asks whether an optional ingredient goes in. Yes or no."""

    can_wait: ClassVar[bool] = False
    once: ClassVar[bool] = True
    taps: ClassVar[tuple[str, ...]] = ("yes", "no")

    kind: Literal["option"]
    option: Name

    @property
    def subject(self) -> str:
        """What it is about."""
        return self.option

    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """Yes or no; of sorbate a dose, too."""
        return awaited_amount(batch, "sorbate") if self.option == "sorbate" else ()

    def done(self, batch: Batch, at: datetime) -> Done:
        """It wants a yes or a no."""
        return AskAgain()

    def glance(self, batch: Batch) -> Glance | None:
        """Nothing to see but the sentence."""
        return None
