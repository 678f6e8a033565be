"""A journal walked through step by step, for what only the way there tells."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from assistant.cook import Batch, begin, step
from assistant.cook.amounts import amount
from assistant.cook.reply import Quantity
from assistant.facts.events import AnyEvent, Begin


@dataclass(frozen=True)
class Stay:
    """How long a batch was at a stage; left_at is None where it is still there."""

    stage: str
    index: int
    entered_at: datetime
    left_at: datetime | None

    @property
    def seconds(self) -> float | None:
        """Time spent there, nought where a clock was set back [s]; None while it goes on."""
        if self.left_at is None:
            return None
        return max(0.0, (self.left_at - self.entered_at).total_seconds())


def walk(events: Sequence[AnyEvent]) -> Iterator[tuple[Batch, AnyEvent, Batch]]:
    """Each event with the batch before and after it; ValueError unless Begin comes first."""
    first = events[0] if events else None
    if not isinstance(first, Begin):
        raise ValueError("a journal starts with Begin")
    batch, _ = begin(first)
    for event in events[1:]:
        after, _ = step(batch, event)
        yield batch, event, after
        batch = after


def stays(events: Sequence[AnyEvent]) -> tuple[Stay, ...]:
    """The stages of a batch with the times it came and went; what was taken back is left out."""
    first = events[0]
    found: list[Stay] = []
    batch = begin(first)[0] if isinstance(first, Begin) else None
    for before, event, after in walk(events):
        batch = after
        if after.stage_index > before.stage_index and before.stage is not None:
            found.append(Stay(before.stage.id, before.stage_index, before.entered_at, event.at))
        elif after.stage_index < before.stage_index:
            found = [s for s in found if s.index < after.stage_index]
    if batch is not None and batch.stage is not None:
        found.append(Stay(batch.stage.id, batch.stage_index, batch.entered_at, None))
    return tuple(found)


def planned_amounts(events: Sequence[AnyEvent]) -> dict[str, Quantity]:
    """What the recipe asked for when each amount first went in, by the amount's name."""
    told: dict[str, Quantity] = {}
    for before, _, after in walk(events):
        if len(after.added) <= len(before.added):
            continue
        name = after.added[-1].name
        asked = amount(before, name)
        if asked is not None:
            told.setdefault(name, asked)
    return told
