"""What a matched rule can come to: values, before anybody knows what is being asked."""

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from assistant.base.units import Unit
from assistant.facts.events import What


@dataclass(frozen=True, slots=True)
class Thing:
    """What is being measured, and which fruit it is when it was named."""

    what: What
    fruit: str | None = None


@dataclass(frozen=True, slots=True)
class Short:
    """A number said without its point: "three one", "two fifty"."""

    value: Fraction


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as said, with its unit and its name as far as they were said.

    short : the point was left out, so it counts for large units only
    """

    value: Fraction
    unit: Unit | None = None
    what: What | None = None
    fruit: str | None = None
    short: bool = False

    def of(self, thing: Thing) -> "Amount":
        """The same amount of something named."""
        return replace(self, what=thing.what, fruit=thing.fruit)


@dataclass(frozen=True, slots=True)
class Amended:
    """The right value in place of the last one."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class Plain:
    """An event that needs nothing from the batch: its kind and fields."""

    kind: str
    fields: tuple[tuple[str, Any], ...] = ()


@dataclass(frozen=True, slots=True)
class Pick:
    """One of the candidates that were asked about; -1 is the last."""

    which: int


Meant = Amount | Amended | Plain | Pick


def plain(kind: str, **fields: Any) -> Plain:
    """An event of that kind; fields that are None are left out."""
    return Plain(kind, tuple((k, v) for k, v in fields.items() if v is not None))


def counts(number: Fraction) -> bool:
    """Whether so many bottles can be."""
    return number > 0 and number.denominator == 1
