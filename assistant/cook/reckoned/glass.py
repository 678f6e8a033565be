"""A drink mixed from this batch's syrup: of which Brix it is reckoned, and how it is mixed."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from assistant.base.errors import OutOfRange
from assistant.calc.serve import Glass, dilute, dilute_by_parts
from assistant.cook.batch import Batch
from assistant.cook.drinks import GLASS_ML, THINNEST, USUAL_BRIX
from assistant.cook.keep_answers import barred_lines, past_lines
from assistant.cook.keeping import closed_until
from assistant.cook.reckoned.pan import Answer, brix, is_sweetened, no_pan, pan
from assistant.cook.reply import Fact, Line
from assistant.cook.stock import syrup
from assistant.facts.events import Ask

STRONGEST = 25.0
"""No drink is mixed sweeter than this here (this project's own line). [mass %]"""
LARGEST_GLASS = 2000.0
Known = Literal["read", "since", "reckoned", "planned"]
"""As of a pan; planned : the sugar is not in yet, so the recipe's target stands for it."""


@dataclass(frozen=True)
class Mixed:
    """A glass of the drink, and the syrup that it is mixed from. [mass %]"""

    glass: Glass
    syrup_brix: float
    known: Known

    @property
    def parts(self) -> str:
        """Parts of water to one of syrup, as they are said."""
        return f"{self.glass.water_parts:.2g}"


def cannot_serve(batch: Batch, at: datetime) -> Answer:
    """Why nothing of it is served: it must not be used, it is past its date; else ()."""
    if batch.barred:
        return barred_lines(batch)
    if batch.ended == "discarded":
        return (Line(id="was_discarded", rank="answer"),)
    return past_lines(closed_until(batch, at), at) if batch.bottled else ()


def mixed(batch: Batch, event: Ask) -> Mixed | Answer:
    """A glass at the strength that is named, else the usual one; or why there is none."""
    refused = cannot_serve(batch, event.at)
    stock = syrup(batch)
    if refused:
        return refused
    if stock is None:
        return no_pan(batch)
    own = min(85.0, stock.brix.likely)
    if own < THINNEST:
        return (Line(id="no_drink", rank="answer"),)
    glass = _glass(event, own)
    if glass is None:
        return (Line(id="serving.no_such_drink", rank="question"),)
    return Mixed(glass, own, _known(batch))


def _glass(event: Ask, own: float) -> Glass | None:
    parts, target = event.number("parts"), event.number("drink")
    size = event.number("glass") or GLASS_ML
    if not 0 < size <= LARGEST_GLASS or (target is not None and not 0 < target <= STRONGEST):
        return None
    try:
        if parts is not None:
            return dilute_by_parts(own, parts, size) if parts > 0 else None
        return dilute(own, target if target is not None else USUAL_BRIX, size)
    except OutOfRange:
        return None


def _known(batch: Batch) -> Known:
    there = pan(batch)
    return there.known if there is not None and is_sweetened(batch) else "planned"


def by_which(drink: Mixed) -> Answer:
    """Whether the syrup's Brix was read, reckoned, or is the plan's."""
    facts: dict[str, Fact] = {"brix": brix(drink.syrup_brix)}
    return (Line(id=_BY[drink.known], rank="answer", facts=facts),)


_BY = {
    "read": "serving.by_reading",
    "since": "serving.by_stale",
    "reckoned": "serving.by_reckoning",
    "planned": "serving.by_plan",
}
