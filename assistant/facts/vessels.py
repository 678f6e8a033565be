"""What syrup is filled into: bottles and jars, each of a size, full or not."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Count = Annotated[int, Field(gt=0)]
Size = Annotated[float, Field(gt=0, allow_inf_nan=False)]
Of = Literal["bottle", "jar"]
OfBottles = Annotated[Of, Field(exclude_if=lambda of: of == "bottle")]
Held = Annotated[Size | None, Field(exclude_if=lambda held: held is None)]

VESSEL_WORDS = {"bottle": ("bottle", "bottles"), "jar": ("jar", "jars")}
PART_WORDS = {"bottle": ("part bottle", "part bottles"), "jar": ("part jar", "part jars")}
UNKNOWN_SIZE = "unknown size"


class Vessel(BaseModel):
    """One sort of bottle or jar.

    size_ml : None where nobody said [ml]
    holds_ml : what is in it where it was filled but partly [ml]
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    size_ml: Size | None = None
    of: OfBottles = "bottle"
    holds_ml: Held = None

    @property
    def inside_ml(self) -> float | None:
        """The syrup in it, None where its size is not known. [ml]"""
        return self.size_ml if self.holds_ml is None else self.holds_ml


class Lot(BaseModel):
    """So many vessels of one sort. [ml]"""

    model_config = ConfigDict(frozen=True, extra="forbid")

    count: Count
    size_ml: Size | None = None
    of: OfBottles = "bottle"
    holds_ml: Held = None

    @property
    def vessel(self) -> Vessel:
        """The sort."""
        return Vessel(size_ml=self.size_ml, of=self.of, holds_ml=self.holds_ml)


def lot(count: int, vessel: Vessel) -> Lot:
    """So many of that sort.

    >>> lot(2, Vessel(size_ml=330, of="jar"))
    Lot(count=2, size_ml=330.0, of='jar', holds_ml=None)
    """
    return Lot(count=count, size_ml=vessel.size_ml, of=vessel.of, holds_ml=vessel.holds_ml)


def together(lots: tuple[Lot, ...]) -> tuple[Lot, ...]:
    """The same with each sort once, in the order in which they were told."""
    counts: dict[Vessel, int] = {}
    for each in lots:
        counts[each.vessel] = counts.get(each.vessel, 0) + each.count
    return tuple(lot(count, vessel) for vessel, count in counts.items())


def inside_ml(lots: tuple[Lot, ...]) -> float | None:
    """The syrup in all of them, None where the size of one is not known. [ml]"""
    each = [(one.count, one.vessel.inside_ml) for one in lots]
    if any(held is None for _, held in each):
        return None
    return sum(count * held for count, held in each if held is not None)


def words_of(vessel: Vessel | None, count: int) -> str:
    """What so many are called.

    >>> words_of(Vessel(size_ml=330, of="jar"), 2), words_of(Vessel(size_ml=500, holds_ml=250), 1)
    ('jars', 'part bottle')
    """
    of = vessel.of if vessel else "bottle"
    part = vessel is not None and vessel.holds_ml is not None
    one, many = (PART_WORDS if part else VESSEL_WORDS)[of]
    return one if count == 1 else many
