"""What becomes of bottles, told with a tap: the same events as the larder's commands write."""

from datetime import datetime
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from assistant.base.errors import WrongUse
from assistant.facts.events import (
    AnyEvent,
    Discard,
    Moved,
    Opened,
    Place,
    Recalled,
    Sign,
    SignOf,
    Used,
)
from assistant.facts.vessels import Vessel

Count = Annotated[int, Field(ge=1, le=500)]


class ActIn(BaseModel):
    """What a page sends: which batch, what was done, and what goes with it.

    vessel : which sort, where the batch has several
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    batch: Annotated[str, Field(min_length=1, max_length=64)]
    act: Literal["use", "give", "open", "move", "discard", "sign", "recall"]
    count: Count | None = None
    to: Annotated[str, Field(max_length=100)] = ""
    place: Place | None = None
    sign: SignOf | None = None
    vessel: Vessel | None = None


def event_of(wanted: ActIn, at: datetime) -> AnyEvent:
    """The event that a tap means; WrongUse where something is missing."""
    sort = wanted.vessel
    match wanted.act:
        case "use":
            return Used(at=at, count=wanted.count or 1, vessel=sort)
        case "give" if wanted.to.strip():
            return Used(at=at, count=wanted.count or 1, to=wanted.to.strip(), vessel=sort)
        case "open":
            return Opened(at=at, count=wanted.count or 1, vessel=sort)
        case "move" if wanted.place:
            return Moved(at=at, place=wanted.place, count=wanted.count, vessel=sort)
        case "discard":
            return Discard(at=at, count=wanted.count, vessel=sort)
        case "sign" if wanted.sign:
            return Sign(at=at, what=wanted.sign)
        case "recall":
            return Recalled(at=at)
        case "give" | "move" | "sign":
            raise WrongUse("Say who got them, where they went, or what you saw.")
