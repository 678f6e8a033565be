"""What every kind of stage has, and what it must say of itself."""

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, ClassVar

from assistant.cook.batch import Batch
from assistant.cook.parts import Name, Part
from assistant.cook.reply import Line, Quantity
from assistant.facts.asked import Awaited


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

_TOLD = ("can_wait", "once", "hot", "taps")
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
    hot : something is on the fire; taps : answers that may be given with a tap, never a number
    """

    can_wait: ClassVar[bool]
    once: ClassVar[bool]
    hot: ClassVar[bool]
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
