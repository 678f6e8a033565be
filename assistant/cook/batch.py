"""The state of one batch: what the events so far have made of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

from assistant.cook.lasting import Lasting
from assistant.cook.reply import Line, Reply
from assistant.cook.stored import Stored
from assistant.facts.events import AnyEvent, Reading
from assistant.facts.vessels import Lot, inside_ml, together

if TYPE_CHECKING:
    from assistant.cook.kinds import AnyStage
    from assistant.cook.recipe import Recipe


@dataclass(frozen=True)
class Taken:
    """A reading that counts, with the stage it came in.

    mixed : how often what is in the pan had been changed by then
    """

    reading: Reading
    stage: str
    mixed: int = 0

    @property
    def what(self) -> str:
        """What was measured."""
        return self.reading.what

    @property
    def base(self) -> float:
        """The value in the base unit."""
        return self.reading.base

    @property
    def at(self) -> datetime:
        """When it was said."""
        return self.reading.at


@dataclass(frozen=True)
class Added:
    """An addition that went in: the amount's name, how much [g or ml], and when.

    measured : True when the cook said how much, False when the planned amount is taken
    mixed : how often what is in the pan has been changed with it
    """

    name: str
    amount: float
    unit: Literal["g", "ml"]
    at: datetime
    measured: bool = False
    mixed: int = 0


@dataclass(frozen=True)
class Bottled:
    """Bottles filled.

    size_ml : None where nobody said, or where they are of several sizes [ml]
    lots : how many of each sort, where there is more to tell than that
    """

    count: int
    size_ml: float | None
    at: datetime
    lots: tuple[Lot, ...] = ()

    @property
    def sorts(self) -> tuple[Lot, ...]:
        """How many of each sort, each once."""
        return together(self.lots or (Lot(count=self.count, size_ml=self.size_ml),))

    @property
    def volume_ml(self) -> float | None:
        """The syrup in them, None where not every size was said. [ml]"""
        return inside_ml(self.sorts)


@dataclass(frozen=True)
class Canned:
    """Filled jars boiled in water: how long [min], how high over the sea [m], and when.

    sealed_at : when all lids were found down, None before that
    """

    minutes: float
    altitude_m: float
    at: datetime
    sealed_at: datetime | None = None


@dataclass(frozen=True)
class Held:
    """Something said that waits for the cook's yes, and the lines that ask for it."""

    event: AnyEvent
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Timer:
    """A running timer. [s]"""

    name: str
    seconds: float
    at: datetime


@dataclass(frozen=True)
class Batch:
    """One making of a recipe, from the fruit's weight to the last bottle.

    stage_index : the stage now; equal to the number of stages when all are done
    order : ids of the stages in the order of this batch, () for the recipe's own
    paused : the cook has turned away, and is only asked again when the cook is back
    entered_at : when this stage began
    stopped_by : id of the limit that holds the batch, if one does
    rules : what it is folded by, see `Begin`
    held : what was said last and waits for a yes; `before` is the batch without it
    sign_sure : the cook has said that a sign of spoilage in the pan is no false alarm
    insisted : stage whose wait the cook was warned about; the next "done" goes on without it
    last_reading : the reading that made the last change, None where something else did
    before : the state the last change was made from, for taking it back
    mixed : how often what is in the pan was changed by something that can move its pH
    lasting : what no undo takes back
    asked_again : an amount that was too much to be meant, as what and how much; twice it counts
    ph_by : what the pH was read with, None where nobody said
    stored : what became of the bottles
    """

    id: str
    recipe: "Recipe"
    begun_at: datetime
    entered_at: datetime
    stage_index: int = 0
    order: tuple[str, ...] = ()
    paused: bool = False
    fruit: str | None = None
    taken: tuple[Taken, ...] = ()
    added: tuple[Added, ...] = ()
    bottled: Bottled | None = None
    stored: Stored = field(default_factory=Stored)
    choices: Mapping[str, bool] = field(default_factory=lambda: MappingProxyType({}))
    skipped: frozenset[str] = frozenset()
    timers: tuple[Timer, ...] = ()
    notes: tuple[str, ...] = ()
    discarded_for: str = ""
    stopped_by: str | None = None
    insisted: str | None = None
    ended: Literal["finished", "discarded"] | None = None
    last_reply: Reply = field(default_factory=Reply)
    last_reading: Reading | None = None
    before: "Batch | None" = None
    rules: int = 0
    held: Held | None = None
    sign_sure: bool = False
    mixed: int = 0
    lasting: Lasting = field(default_factory=Lasting)
    asked_again: tuple[str, float] | None = None
    ph_by: Literal["meter", "strips"] | None = None
    canned: Canned | None = None

    @property
    def stage(self) -> "AnyStage | None":
        """The stage now, or None when the batch has ended."""
        if self.ended or self.stage_index >= len(self.stages):
            return None
        return self.stages[self.stage_index]

    @property
    def stages(self) -> "tuple[AnyStage, ...]":
        """The stages in the order of this batch, repeated ones among them."""
        if not self.order:
            return self.recipe.stages
        named = {stage.id: stage for stage in self.recipe.stages}
        return tuple(named[id_] for id_ in self.order)

    @property
    def in_store(self) -> int:
        """Bottles still there, opened ones among them."""
        filled = self.bottled.count if self.bottled else 0
        return max(0, filled - self.stored.used - self.stored.thrown)

    @property
    def closed(self) -> int:
        """Bottles in store that have not been opened."""
        return self.in_store - self.stored.open_count

    @property
    def spoiling(self) -> bool:
        """Whether a sign of spoilage holds it before it is bottled."""
        return bool(self.stored.signs and self.rules and not self.bottled and not self.ended)

    @property
    def stopped(self) -> bool:
        """Whether it must not go on: a limit holds it, or a sign of spoilage does."""
        return self.stopped_by is not None or self.spoiling

    @property
    def barred(self) -> Literal["stopped", "signed", "recalled"] | None:
        """Why no bottle of it may be used, whatever its date."""
        if self.stopped_by:
            return "stopped"
        if self.stored.signs:
            return "signed"
        return "recalled" if self.stored.recalled_for is not None else None

    def last(self, what: str) -> Taken | None:
        """The latest reading of that quantity."""
        return next((t for t in reversed(self.taken) if t.what == what), None)

    @property
    def start(self) -> Taken | None:
        """The first measurement of what the recipe starts from, or the latest correction of it."""
        return next((t for t in self.taken if t.what == self.recipe.base), None)

    def addition(self, name: str) -> Added | None:
        """The latest addition of that amount."""
        return next((a for a in reversed(self.added) if a.name == name), None)

    def total(self, name: str) -> float:
        """All that went in under that name. [g or ml]"""
        return sum(a.amount for a in self.added if a.name == name)

    def reached(self, stage_id: str) -> bool:
        """Whether the batch is at or past a stage of that id."""
        ids = [s.id for s in self.stages]
        return stage_id in ids and self.stage_index >= ids.index(stage_id)

    def with_reading(self, reading: Reading) -> "Batch":
        """The batch with one reading more; what it starts from, and juice, are new in the pan."""
        stage = self.stage.id if self.stage else ""
        batch = self.stirred() if reading.what in (self.recipe.base, "juice") else self
        return replace(batch, taken=(*self.taken, Taken(reading, stage, batch.mixed)))

    def with_added(self, added: Added) -> "Batch":
        """The batch with one addition more."""
        batch = self.stirred()
        return replace(batch, added=(*self.added, replace(added, mixed=batch.mixed)))

    def stirred(self) -> "Batch":
        """The batch after something that can have moved its pH."""
        return replace(self, mixed=self.mixed + 1)

    def with_choice(self, option: str, value: bool) -> "Batch":
        """The batch with an option chosen or declined."""
        return replace(self, choices=MappingProxyType({**self.choices, option: value}))

    def with_skipped(self, stage_id: str) -> "Batch":
        """The batch gone on without what a stage waited for."""
        return replace(self, skipped=self.skipped | {stage_id})
