"""What every kind of stage has, and what it must say of itself."""

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, ClassVar, Literal

from assistant.cook.batch import Batch
from assistant.cook.parts import Name, Part
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited
from assistant.facts.events import Reading


@dataclass(frozen=True)
class GoOn:
    """ "Done" is taken: the batch with what it brings, before it goes to the next stage."""

    batch: Batch


@dataclass(frozen=True)
class Warned:
    """The first "done" hears this line; the second goes on.

    skips : what the stage waited for counts as left out then
    """

    line: Line
    skips: bool = True


@dataclass(frozen=True)
class AskAgain:
    """ "Done" is no answer here: the stage's own sentence once more."""


Done = GoOn | Warned | AskAgain


@dataclass(frozen=True)
class Enough:
    """A reading that the stage waited for: on to the next, with these lines."""

    lines: tuple[Line, ...] = ()


@dataclass(frozen=True)
class NotYet:
    """A reading that counts, but the stage waits on; these lines are said to it."""

    lines: tuple[Line, ...] = ()


@dataclass(frozen=True)
class NotTaken:
    """A reading that the stage has no use for; the line says why."""

    line: Line


Outcome = Enough | NotYet | NotTaken


@dataclass(frozen=True)
class Due:
    """When the stage wants the cook again without being asked.

    began, ends : from when, and until when nothing is wanted; line : what is said then
    """

    kind: Literal["rest", "thermometer"]
    began: datetime
    ends: datetime
    line: Line


@dataclass(frozen=True)
class Glance:
    """The one thing to see across the room while the batch is at the stage.

    amount : as a number with its unit; text, unit : where it is no plain amount
    """

    label: Line
    amount: Quantity | None = None
    text: str = ""
    unit: str = ""
    note: Line | None = None


_TOLD = ("can_wait", "once", "taps")
"""What a kind must say of itself, besides its methods."""


class StageBase(Part):
    """What all stages have. A new kind is one subclass in a module of this folder.

    say : the sentence that asks for it; names in braces are amounts or figures of the stage
    why : the reason, told when asked
    caution : said once, when the stage is reached
    when : name of an option; the stage is left out unless that option was chosen
    may_wait : it may change places with a stage next to it that may wait too
    repeatable : it may be done once more later on

    Of the kind:
    can_wait : a recipe may mark it `may_wait`; once : it is done once, never repeated
    taps : answers that may be given with a tap, never a number
    """

    can_wait: ClassVar[bool]
    once: ClassVar[bool]
    taps: ClassVar[tuple[str, ...]]

    id: Name
    say: str
    why: str
    caution: str | None = None
    when: Name | None = None
    may_wait: bool = False
    repeatable: bool = False

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        """TypeError for a kind that leaves something untold."""
        untold = [name for name in _TOLD if not hasattr(cls, name)]
        if untold:
            raise TypeError(f"{cls.__name__} does not say {', '.join(untold)}")

    @property
    def subject(self) -> str:
        """The amount, reading or option that it is about, "" for none."""
        return ""

    @abstractmethod
    def awaits(self, batch: Batch, at: datetime) -> tuple[Awaited, ...]:
        """The readings it waits for, most expected first. `at` is now, for holds that run."""

    def figures(self, start_g: float = 0.0) -> Mapping[str, Quantity]:
        """The figures that its own sentences may name, besides the recipe's amounts; often none.

        start_g : what the recipe starts from, by weight [g]
        """
        return {}

    @abstractmethod
    def done(self, batch: Batch, at: datetime) -> Done:
        """What "done" comes to while the batch is at this stage."""

    @abstractmethod
    def glance(self, batch: Batch) -> Glance | None:
        """What to see across the room; None where there is no number to show."""

    def heard(self, after: Batch, event: Reading, warned: tuple[Line, ...]) -> Outcome | None:
        """What a reading of what went in or how hot it is comes to here; None: nothing special.

        after : the batch with the reading counted
        warned : what is to be said of the reading wherever it was taken
        """
        return None

    def due(self, batch: Batch, now: datetime) -> Due | None:
        """When the cook is wanted again; None where the stage has no time of its own."""
        return None

    def left(self, batch: Batch, at: datetime) -> Line | None:
        """The answer to "how long?"; None where the stage has no time of its own."""
        return None

    def takes_s(self) -> float | None:
        """Time that the recipe fixes, 0 where it fixes none; None where nobody can tell. [s]"""
        return 0.0

    def fire_c(self) -> float | None:
        """How hot the pan is made; None where nothing is on the fire. [degC]"""
        return None
