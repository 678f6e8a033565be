"""What no undo takes back: a high pH, a refused fruit, what a filled bottle was worth at worst."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from assistant.calc.keep_reasons import Heated

if TYPE_CHECKING:
    from assistant.cook.batch import Taken

_ORDER: tuple[Heated, ...] = ("none", "part", "all")


@dataclass(frozen=True)
class Hurdles:
    """What a batch has that lets it keep.

    ph : of the finished food, None where none counts; brix : None where it is not known [mass %]
    heated : what was in the pan during a completed hold
    soured : low in acid by nature, and acid went in that a checked meter confirmed
    plain : nothing of a plant, no juice, honey or vinegar went in
    acetic, preservative : [g/l]; alcohol : by volume [ml/ml]
    """

    ph: float | None
    brix: float | None
    heated: Heated
    low_acid: bool
    soured: bool = False
    plain: bool = False
    acetic: float = 0.0
    alcohol: float = 0.0
    preservative: float = 0.0

    def worse(self, other: "Hurdles | None") -> "Hurdles":
        """The worse of both in everything."""
        if other is None:
            return self
        return Hurdles(
            ph=None if self.ph is None or other.ph is None else max(self.ph, other.ph),
            brix=None if self.brix is None or other.brix is None else min(self.brix, other.brix),
            heated=min(self.heated, other.heated, key=_ORDER.index),
            low_acid=self.low_acid or other.low_acid,
            soured=self.soured or other.soured,
            plain=self.plain and other.plain,
            acetic=min(self.acetic, other.acetic),
            alcohol=min(self.alcohol, other.alcohol),
            preservative=min(self.preservative, other.preservative),
        )


@dataclass(frozen=True)
class Filled:
    """When bottles were filled first, and the worst that was known of them since."""

    at: datetime
    hurdles: Hurdles


@dataclass(frozen=True)
class Disbelieved:
    """A pH that was put right: what it was, what it is now, and the acid that went in between. [g]

    least : the least acid that would explain it, None where it can't be reckoned [g]
    """

    was: float
    then: float
    put_in: float
    least: float | None


@dataclass(frozen=True)
class Lasting:
    """What stays with a batch whatever is taken back.

    high_ph : the latest pH over where makers stay, until another is read
    taken_back : high readings that were taken back or put right
    doubted : a pH that the acid put in can't explain, until it is read once more
    refused : a fruit that the recipe is not for, until another is named
    """

    high_ph: "Taken | None" = None
    taken_back: tuple["Taken", ...] = ()
    doubted: float | None = None
    disbelieved: tuple[Disbelieved, ...] = ()
    refused: str | None = None
    filled: Filled | None = None

    def from_mix(self, mixed: int) -> "Lasting":
        """With a high pH no later than a state that the batch went back to."""
        high = self.high_ph
        if high is None or high.mixed <= mixed:
            return self
        return replace(self, high_ph=replace(high, mixed=mixed))
