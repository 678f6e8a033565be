"""The one number that matters now: what the stage shows, or what comes before it."""

from datetime import datetime

from assistant.base.units import Unit
from assistant.cook import Batch
from assistant.cook.keeping import keep_by_words
from assistant.cook.kinds.base import Glance
from assistant.cook.reply import Quantity
from assistant.limits import Limit, limit_named
from assistant.say.amounts import by_eye
from assistant.say.phrase import fragment
from assistant.screen.facts import Big


def big(batch: Batch, at: datetime) -> Big | None:
    """The number to show across the room; None where the stage has none.

    at : now, for a date to keep by
    """
    limit = stopping(batch)
    if limit is not None:
        return _stopped(batch, limit)
    if batch.ended == "finished" and batch.in_store:
        words = keep_by_words(batch, at)
        return None if batch.barred else Big(label="Keep by", value=words)
    stage = batch.stage
    glance = stage.glance(batch) if stage else None
    return None if glance is None else _shown(glance)


def stopping(batch: Batch) -> Limit | None:
    """The limit that holds the batch."""
    return limit_named(batch.stopped_by)


def parted(quantity: Quantity) -> tuple[str, str]:
    """An amount as number and unit, as `say` writes them.

    >>> parted(Quantity(value=2430, unit="g"))
    ('2.43', 'kg')
    """
    if quantity.unit == "degC":  # 150 degF is 65.556 degC, which no thermometer shows
        quantity = quantity.model_copy(update={"value": round(quantity.value, 1)})
    words = by_eye(quantity, bare=True)
    number, _, unit = words.partition(" ")
    return number, unit


def _stopped(batch: Batch, limit: Limit) -> Big:
    last = batch.last(limit.quantity)
    bound = Quantity(value=limit.bound, unit=limit.unit, exact=True)
    if last is None:
        return Big(label="Stopped", value="", note=f"limit {by_eye(bound)}")
    number, unit = parted(exact(last.base, bound.unit))
    side = "above" if limit.side == "above" else "below"
    label = "pH" if limit.quantity == "ph" else limit.quantity
    return Big(label=label, value=number, unit=unit, note=f"{side} the limit of {by_eye(bound)}")


def _shown(glance: Glance) -> Big:
    number, unit = parted(glance.amount) if glance.amount else (glance.text, glance.unit)
    note = fragment(glance.note) if glance.note else ""
    return Big(label=fragment(glance.label), value=number, unit=unit, note=note)


def exact(value: float, unit: Unit) -> Quantity:
    """A reading to the digits it was given with."""
    return Quantity(value=round(value, 1 if unit == "degC" else 3), unit=unit, exact=True)
