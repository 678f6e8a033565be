"""Bottled batches for the larder, made without walking every stage each time."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from functools import cache

from batch_maker import Maker

from assistant.facts.events import AnyEvent, Begin, event_adapter

FILLED = datetime(2026, 7, 11, 16, 0, tzinfo=UTC)


def journal(
    batch: str = "2026-07-11-1",
    filled: datetime = FILLED,
    ph: float = 3.4,
) -> list[AnyEvent]:
    """The events of a finished batch of nine bottles, which were filled at that time."""
    return shifted(list(_finished(ph)), batch, filled)


@cache
def _finished(ph: float) -> tuple[AnyEvent, ...]:
    maker = Maker().up_to("ph")
    maker.reads("ph", ph, "pH")
    while maker.stage == "ph":
        maker.done()
    maker.does("bottle", count=9, size_ml=500)
    maker.done()
    assert maker.stage == "finished", maker.stage
    return tuple(maker.journal)


def shifted(events: list[AnyEvent], batch: str, filled: datetime) -> list[AnyEvent]:
    """The same events under another name, moved so that the bottles were filled then."""
    bottled = next(event.at for event in events if event.kind == "bottle")
    by = filled - bottled
    moved = [event.model_copy(update={"at": event.at + by}) for event in events]
    first = moved[0]
    assert isinstance(first, Begin)
    return [first.model_copy(update={"batch": batch}), *moved[1:]]


def event(kind: str, at: datetime, **fields: object) -> AnyEvent:
    """An event by its kind."""
    body: Mapping[str, object] = {"kind": kind, "at": at, **fields}
    return event_adapter.validate_python(body)


def days(count: float) -> timedelta:
    """So many days."""
    return timedelta(days=count)
