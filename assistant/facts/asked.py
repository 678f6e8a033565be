"""What the cook is being asked at this moment: how a bare number is to be understood."""

from datetime import datetime

from pydantic import BaseModel, ConfigDict

from assistant.base.units import Unit
from assistant.facts.events import What
from assistant.facts.vessels import Vessel

FAR_OFF = 1 / 3
"""An amount this share away from the plan is asked about, unless the plan's own spread holds it
(common practice, no source)."""


class Awaited(BaseModel):
    """A reading that is welcome now.

    low, high : what is physically possible here, in the base unit. Outside is asked or refused.
    units : units it may be given in; the first is meant when only a number is said.
    decides : values at which a safety decision turns, in the base unit.
    confirm : True where every spoken value changes a safety decision and is asked back.
    last, last_at : the latest reading of the same quantity, in the base unit.
    planned, spread : what the plan lets expect, and from where to where, in the base unit; None
        where there is no plan. They say which unit a bare number has, and whether it can be this.
    """

    model_config = ConfigDict(frozen=True)

    what: What
    units: tuple[Unit, ...]
    low: float
    high: float
    decides: tuple[float, ...] = ()
    confirm: bool = False
    last: float | None = None
    last_at: datetime | None = None
    planned: float | None = None
    spread: tuple[float, float] | None = None

    def fits_plan(self, value: float) -> bool:
        """Whether a value in the base unit is near the plan; True where there is none.

        Near is within a third of it, or within its own spread (common practice, no source).
        """
        if self.planned is None:
            return True
        low, high = self.spread or (self.planned, self.planned)
        return low <= value <= high or abs(value - self.planned) <= FAR_OFF * self.planned


class Asked(BaseModel):
    """Everything the hearing side may know about the batch.

    stage, kind : id and kind of the stage now, "" where there is none
    about : the amount, reading or option that the stage is about
    says : the recipe's own sentence that asks for it
    fruit, fruits : which fruit it is, as far as told, and those the recipe is made for
    mixture : its fruits where there are several, the heaviest first
    process : the tested way to the shelf that the recipe follows, "" for none
    had : the readings taken so far
    in_store : bottles of it in store; None before any were filled
    sorts : the sorts that were filled, each with how many are left; () where nobody can tell
    opened : the sorts of which some are open
    sizes : what the recipe means by a word for bottles, such as "small" [ml]
    things : the recipe's own ingredients, each by a name that the cook may use and its key
    """

    model_config = ConfigDict(frozen=True)

    awaited: tuple[Awaited, ...] = ()
    yes_no: bool = False
    options: tuple[str, ...] = ()
    stage: str = ""
    kind: str = ""
    about: str = ""
    says: str = ""
    fruit: str = ""
    fruits: tuple[str, ...] = ()
    mixture: tuple[str, ...] = ()
    process: str = ""
    had: tuple[str, ...] = ()
    in_store: int | None = None
    sorts: tuple[tuple[Vessel, int], ...] = ()
    opened: tuple[Vessel, ...] = ()
    sizes: tuple[tuple[str, float], ...] = ()
    things: tuple[tuple[str, str], ...] = ()

    def find(self, what: str) -> Awaited | None:
        """The awaited reading of that name, if it is welcome now."""
        return next((a for a in self.awaited if a.what == what), None)
