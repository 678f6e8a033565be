"""The one table of what is measured or goes in, `stuff.toml`, and what recipes call its amounts."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Literal, Self, cast, get_args

from pydantic import BaseModel, ConfigDict, Field, model_validator

from assistant.base.units import Dimension, Unit, dimension
from assistant.facts.events import What


class _Row(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Stuff(_Row):
    """One thing of the table; `stuff.toml` explains each key.

    units : () where a cook's number for it is not taken
    """

    key: str
    kind: Literal["base", "ingredient", "measured"]
    words: str
    units: tuple[Unit, ...] = ()
    range: tuple[float, float] | None = None
    takes: frozenset[Dimension] = frozenset()
    natural: bool = False
    acid: bool = False
    preservative: bool = False
    most: float | None = Field(default=None, gt=0)
    density: float | None = Field(default=None, gt=0)
    density_source: str = ""
    spoon: str | None = None
    label: str | None = None
    buy_step: float = Field(default=5.0, gt=0)
    from_tap: bool = False

    @property
    def by_the_spoon(self) -> bool:
        """Whether a volume of it can be weighed."""
        return self.density is not None or self.spoon is not None

    @property
    def is_put_in(self) -> bool:
        """Whether a cook may say how much of it went in."""
        return self.kind == "ingredient" and bool(self.units)

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        if bool(self.units) != (self.range is not None):
            raise ValueError(f"{self.key}: units and range come together")
        if (self.density is not None) != bool(self.density_source):
            raise ValueError(f"{self.key}: a density needs its source")
        if self.kind == "ingredient" and self.label is None:
            raise ValueError(f"{self.key}: what goes in has a name on the label")
        if self.kind == "ingredient" and "volume" in self.takes and not self.by_the_spoon:
            raise ValueError(f"{self.key}: taken by the spoon, it needs a density or a spoon")
        return self


class AmountOf(_Row):
    """An amount that a recipe may name, and the stuff it consists of."""

    key: str
    of: str
    words: str
    in_mash: bool = False


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("stuff.toml").read_text("utf-8"))


def _stuff() -> dict[str, Stuff]:
    groups = _table()["units"]
    found = {}
    for key, row in _table()["stuff"].items():
        units = [unit for name in row.get("units", ()) for unit in groups.get(name, (name,))]
        found[key] = Stuff.model_validate({"key": key, **row, "units": units})
    return found


def _amounts() -> dict[str, AmountOf]:
    rows = _table()["amount"].items()
    return {
        key: AmountOf.model_validate({"key": key, "words": STUFF[row["of"]].words, **row})
        for key, row in rows
    }


STUFF: Mapping[str, Stuff] = MappingProxyType(_stuff())
"""Every row by its key."""
AMOUNTS: Mapping[str, AmountOf] = MappingProxyType(_amounts())
"""The amounts a recipe may name."""
PRESERVATIVES: tuple[str, ...] = tuple(key for key, row in STUFF.items() if row.preservative)
"""What is held against ceilings by all that went in."""
UNITS: Mapping[str, tuple[Unit, ...]] = MappingProxyType(
    {key: row.units for key, row in STUFF.items() if row.units}
)
"""Units that each reading may be given in."""
RANGES: Mapping[str, tuple[float, float]] = MappingProxyType(
    {key: row.range for key, row in STUFF.items() if row.range}
)
"""What a small kitchen can mean by each reading, in base units."""


OWN: What = "ingredient"
"""What a number for an ingredient of the recipe's own is read as; `Reading.of` says which."""


def read_as(amount: str) -> What | None:
    """What a cook's number for an amount of a recipe is a reading of; None where none is taken.

    >>> read_as("main_sugar"), read_as("gum_arabic")
    ('sugar', None)
    """
    of = stuff_of(amount)
    if of not in STUFF:
        return OWN
    return cast(What, of) if of in get_args(What) else None


def stuff_of(amount: str) -> str:
    """What an amount of a recipe consists of, by its key; both sugars are sugar.

    An ingredient that the recipe brings along is stuff of its own.

    >>> stuff_of("crushing_sugar"), stuff_of("vinegar")
    ('sugar', 'vinegar')
    """
    known = AMOUNTS.get(amount)
    return known.of if known else amount


def row_of(amount: str) -> Stuff:
    """The row of what an amount consists of; an ingredient of the recipe's own is of no other.

    >>> row_of("main_sugar").key, row_of("almonds").key
    ('sugar', 'ingredient')
    """
    return STUFF.get(stuff_of(amount)) or STUFF[OWN]


def stuff_words(name: str) -> str:
    """What an amount or some stuff is called; any other name without its underscores.

    >>> stuff_words("crushing_sugar"), stuff_words("citric_acid"), stuff_words("bottle")
    ('the first sugar', 'citric acid', 'bottle')
    """
    row = AMOUNTS.get(name) or STUFF.get(name)
    return row.words if row else name.replace("_", " ")


def natural() -> Mapping[Dimension, What]:
    """Whose number it is when the unit alone was said: degrees are a temperature."""
    rows = (row for row in STUFF.values() if row.natural)
    return {dimension(row.units[0]): cast(What, row.key) for row in rows}


def in_mash() -> frozenset[str]:
    """The amounts that go in before the straining."""
    return frozenset(key for key, row in AMOUNTS.items() if row.in_mash)
