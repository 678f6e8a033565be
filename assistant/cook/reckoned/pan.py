"""What a calculation starts from: what is in the pan, and how surely that is known."""

from dataclasses import dataclass, replace
from typing import Literal

from assistant.cook.batch import Batch
from assistant.cook.keep_answers import barred_lines
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import Juice, juice, syrup
from assistant.facts.stuff import stuff_of

Answer = tuple[Line, ...]
Known = Literal["read", "since", "reckoned"]
"""read : by refractometer, of what is in the pan now; since : read before more went in; reckoned :
by mass balance alone."""


@dataclass(frozen=True)
class Pan:
    """The juice before its main sugar, the syrup after it. [g], [ml], [mass %]

    known : where its Brix comes from
    spirit : whether spirit is in it, which no refractometer bears
    by_weight : its Brix by the weights, where what was read lies far from it
    """

    mass_g: float
    volume_ml: float
    brix: float
    known: Known
    spirit: bool = False
    by_weight: float | None = None


def pan(batch: Batch) -> Pan | None:
    """What is in the pan now; None until what it starts from, and its juice, are measured."""
    if batch.start is None:
        return None
    stock = _stock(batch)
    if stock is None or not _is_measured(batch, stock):
        return None
    brix = stock.brix.likely
    known, spirit = _known(batch), _has_spirit(batch)
    far = None if known == "reckoned" else _by_weight(batch, stock.brix.likely)
    return Pan(stock.mass_g.likely, stock.volume_ml.likely, brix, known, spirit, far)


FAR_BRIX = 10.0
"""So far a refractometer and the weights part only by a slip (this project's own line). [Brix]"""


def _by_weight(batch: Batch, told: float) -> float | None:
    """The Brix as if none had been read, where it is far from what was; else None."""
    without = replace(batch, taken=tuple(t for t in batch.taken if t.what != "brix"))
    stock = _stock(without)
    if stock is None or stock.brix.low - FAR_BRIX <= told <= stock.brix.high + FAR_BRIX:
        return None
    return stock.brix.likely


def _has_spirit(batch: Batch) -> bool:
    own = batch.recipe.ingredients
    return any(a.name in own and own[a.name].alcohol for a in batch.added)


def is_sweetened(batch: Batch) -> bool:
    """Whether all that makes it sweet by plan has gone in."""
    return "main_sugar" not in batch.recipe.amounts or batch.addition("main_sugar") is not None


def _stock(batch: Batch) -> Juice | None:
    return syrup(batch) if is_sweetened(batch) else juice(batch)


def _is_measured(batch: Batch, stock: Juice) -> bool:
    return stock.measured or batch.recipe.base != "fruit" or batch.last("juice") is not None


def _known(batch: Batch) -> Known:
    read = batch.last("brix")
    if read is None:
        return "reckoned"
    moved = (a for a in batch.added if a.at > read.at)
    return "since" if any(stuff_of(a.name) in _SWEETNESS for a in moved) else "read"


_SWEETNESS = frozenset(("sugar", "water", "glycerin", "vinegar", "darker_syrup"))
"""What moves the Brix by more than a refractometer is off."""


def no_pan(batch: Batch) -> Answer:
    """What is asked where nothing can be reckoned yet."""
    if batch.start is None:
        return (Line(id="reckoned.nothing_yet", rank="question"),)
    return (Line(id="reckoned.needs_juice", rank="question"),)


def closed_to_change(batch: Batch) -> Answer:
    """Why nothing more goes into a batch: it must not be used, it is bottled, it is gone; else ().

    One that stands for its pH or its dose may still be mended, and its stop says how.
    """
    if batch.barred in ("signed", "recalled"):
        return barred_lines(batch)
    if batch.ended == "discarded":
        return (Line(id="was_discarded", rank="answer"),)
    if batch.bottled is not None:
        return (Line(id="reckoned.bottled", rank="answer"),)
    return ()


def named_source(there: Pan) -> Answer:
    """Where the Brix comes from: a stale one is told aloud, a fresh one on request."""
    facts: dict[str, Fact] = {"brix": brix(there.brix), "mass": grams(there.mass_g)}
    if there.by_weight is not None:
        odd: dict[str, Fact] = {"brix": brix(there.brix), "weights": brix(there.by_weight)}
        return (Line(id="reckoned.brix_odd", rank="caution", facts=odd),)
    if there.known == "since":
        return (Line(id="reckoned.brix_stale", rank="caution", facts=facts),)
    if there.known == "read":
        return (Line(id="reckoned.brix_read", rank="detail", facts=facts),)
    return ()


def asks_for_brix(there: Pan) -> Answer:
    """The refractometer is asked for where it was never read; what is reckoned comes after it."""
    if there.known != "reckoned":
        return ()
    facts: dict[str, Fact] = {"brix": brix(there.brix)}
    if there.spirit:
        return (Line(id="reckoned.no_meter", rank="answer", facts=facts),)
    return (Line(id="reckoned.needs_brix", rank="question", facts=facts),)


def no_amount(amount: float | None) -> Answer:
    """Why an amount is none; () where it is one."""
    if amount is None or amount <= 0:
        return (Line(id="reckoned.no_amount", rank="question"),)
    return ()


def brix(value: float) -> Quantity:
    """As the refractometer shows it."""
    return Quantity(value=round(value, 1), unit="Brix", exact=True)


def grams(value: float) -> Quantity:
    """For the scales."""
    return Quantity(value=value, unit="g")


def millilitres(value: float) -> Quantity:
    """For the jug."""
    return Quantity(value=value, unit="ml")
