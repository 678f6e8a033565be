"""A batch as JSON Lines, an event a line: to carry to another kitchen, or to look into."""

from collections.abc import Iterable, Iterator

from pydantic import ValidationError

from assistant.base.errors import WrongUse
from assistant.facts.events import AnyEvent, Begin, event_adapter
from assistant.keep.dated import is_dated, misdated
from assistant.keep.journal import Journal
from assistant.keep.names import renamed


def to_lines(events: Iterable[AnyEvent]) -> Iterator[str]:
    """Each event as one line of JSON, its line end included.

    >>> from datetime import UTC, datetime
    >>> from assistant.facts.events import Onward
    >>> list(to_lines([Onward(at=datetime(2026, 7, 4, tzinfo=UTC), heard="done")]))
    ['{"at":"2026-07-04T00:00:00Z","heard":"done","sure":1.0,"kind":"onward"}\\n']
    """
    return (event_adapter.dump_json(event).decode() + "\n" for event in events)


def from_lines(lines: Iterable[str], name: str = "the file") -> tuple[AnyEvent, ...]:
    """The events of such lines, blank ones left out; WrongUse names the line that is no event."""
    found: list[AnyEvent] = []
    for number, line in enumerate(lines, start=1):
        if not line.strip() or _is_end(line):
            continue
        try:
            found.append(event_adapter.validate_json(line))
        except ValidationError as error:
            why = error.errors(include_url=False)[0]["msg"]
            raise WrongUse(f"line {number} of {name} is not an event: {why}") from error
        if not is_dated(found[-1]):
            raise WrongUse(f"line {number} of {name} {misdated(found[-1])}.")
    return tuple(found)


def _is_end(line: str) -> bool:
    """Whether it is the last line of a whole backup, which tells how much that is."""
    return line.startswith('{"kind": "end"')


def export_batch(journal: Journal, batch_id: str) -> Iterator[str]:
    """The lines of a batch; WrongUse when the journal has no such batch."""
    events = journal.events(batch_id)
    if not events:
        raise WrongUse(f"there is no batch {batch_id} in {journal.store}")
    return to_lines(events)


def import_batch(
    journal: Journal, lines: Iterable[str], *, batch_id: str | None = None, name: str = "the file"
) -> str:
    """Write the batch in some lines to the journal, all or nothing, and return its id.

    batch_id : another id, where the journal has one of that name already
    """
    events = from_lines(lines, name)
    first = events[0] if events else None
    if not isinstance(first, Begin):
        raise WrongUse(f"{name} does not start with the beginning of a batch")
    if batch_id is not None:
        first = renamed(first, batch_id)
    if journal.events(first.batch):
        raise WrongUse(f"batch {first.batch} is in {journal.store} already; give another id")
    journal.take_in(first.batch, (first, *events[1:]), 0)
    return first.batch
