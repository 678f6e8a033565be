"""The table of what a bottle keeps by: reasons that hold it back, strengths that take some away.

`keep_reasons.toml` explains each key. A reason names weaknesses only, so that whatever is better
about a bottle takes reasons away and never adds one.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from assistant.limits import MAKERS_PH, is_low_acid

Place = Literal["fridge", "cupboard", "freezer"]
Heated = Literal["all", "part", "none"]
"""What of it was held hot: all that is in the bottle, all but what went in after the hold, none."""
Of = Literal["acid", "sugar", "heat", "preservative", "alcohol", "filling", "place", "opened"]
Dated = Literal["use by", "best before"]
_COLUMN: dict[Heated, int] = {"all": 0, "part": 1, "none": 2}


@dataclass(frozen=True)
class Bottle:
    """What is known of a bottle, and where it is to stand.

    ph : measured, None when not [-]; brix [g/100 g] and aw [-] : None when not known
    low_acid : counts as low in acid, whatever was measured
    soured : low in acid by nature, and acid went in that a checked meter confirmed
    plain : nothing of a plant, no juice, honey or vinegar went in
    acetic, preservative : acetic acid, and preservative as weighed [g/l]; alcohol [ml/ml]
    """

    ph: float | None
    brix: float | None
    heated: Heated
    place: Place = "fridge"
    opened: bool = False
    low_acid: bool = False
    aw: float | None = None
    tested_canning: bool = False
    soured: bool = False
    plain: bool = False
    acetic: float = 0.0
    alcohol: float = 0.0
    preservative: float = 0.0

    @property
    def weak(self) -> bool:
        """Whether it counts as low in acid, by what it is or by its pH."""
        return self.low_acid or (self.ph is not None and is_low_acid(self.ph))


@dataclass(frozen=True)
class Strength:
    """What takes a reason away, where all that it names is so; the table explains each key."""

    id: str
    of: Of
    words: str
    source: str
    ph_to: float | Literal["makers"] | None = None
    acetic_from: float = 0.0
    alcohol_from: float = 0.0
    preservative_from: float = 0.0
    plain: bool = False

    def holds(self, bottle: Bottle) -> bool:
        """Whether a bottle has it."""
        sour = self.ph_to is None or (bottle.ph is not None and bottle.ph <= _bound(self.ph_to))
        return (
            sour
            and bottle.acetic >= self.acetic_from
            and bottle.alcohol >= self.alcohol_from
            and bottle.preservative >= self.preservative_from
            and (bottle.plain or not self.plain)
        )


@dataclass(frozen=True)
class Reason:
    """What holds a bottle back, where all that it names is so; the table explains each key."""

    id: str
    of: Of
    place: Place
    words: str
    source: str
    days: tuple[int, int, int] | None = None
    dated: Dated = "use by"
    unless: tuple[str, ...] = ()
    low_acid: bool = False
    soured: bool = False
    unmeasured: bool = False
    ph_over: float | Literal["makers"] | None = None
    sugar_under: dict[str, float] | None = None
    heated: tuple[Heated, ...] = ("all", "part", "none")
    opened: bool = False
    untested: bool = False

    def applies(self, bottle: Bottle) -> bool:
        """Whether it holds that bottle back."""
        named = (
            (self.low_acid, bottle.weak),
            (self.soured, bottle.soured),
            (self.unmeasured, bottle.ph is None),
            (self.opened, bottle.opened),
            (self.untested, not bottle.tested_canning),
        )
        return (
            self.place == bottle.place
            and bottle.heated in self.heated
            and all(so for asked, so in named if asked)
            and self._sourness(bottle)
            and self._thin(bottle)
            and not any(s.holds(bottle) for s in strengths() if s.id in self.unless)
        )

    def _sourness(self, bottle: Bottle) -> bool:
        return self.ph_over is None or bottle.ph is None or bottle.ph > _bound(self.ph_over)

    def _thin(self, bottle: Bottle) -> bool:
        """The stricter of Brix and water activity counts; where neither is known it is thin."""
        if self.sugar_under is None:
            return True
        known = []
        if bottle.brix is not None:
            known.append(bottle.brix >= self.sugar_under["brix"])
        if bottle.aw is not None:
            known.append(bottle.aw <= self.sugar_under["aw"])
        return not known or not all(known)

    def most(self, heated: Heated) -> int | None:
        """The days it leaves, None where the bottle may not stand there at all."""
        return None if self.days is None else self.days[_COLUMN[heated]]


def _bound(ph: float | Literal["makers"]) -> float:
    return MAKERS_PH if ph == "makers" else ph


@cache
def reasons() -> tuple[Reason, ...]:
    """Every reason of the table, in its order."""
    return tuple(_reason(row) for row in _table()["reason"])


@cache
def strengths() -> tuple[Strength, ...]:
    """Every strength of the table, in its order."""
    return tuple(Strength(**row) for row in _table()["strength"])


def reason_named(id_: str) -> Reason:
    """The reason whose id is `id_`; KeyError for no such one.

    >>> reason_named("cold").days
    (30, 30, 30)
    """
    return {reason.id: reason for reason in reasons()}[id_]


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("keep_reasons.toml").read_text("utf-8"))


def _reason(row: dict[str, Any]) -> Reason:
    days = row.get("days")
    given: dict[str, Any] = {**row, "days": (days, days, days) if isinstance(days, int) else days}
    for key in ("unless", "heated", "days"):
        if given.get(key) is not None:
            given[key] = tuple(given[key])
    return Reason(**given)
