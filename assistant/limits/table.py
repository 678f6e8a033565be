"""Reads the limit tables beside this module and tells which of them a value trips."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from assistant.base.units import Unit


@dataclass(frozen=True)
class Limit:
    """A bound with what happens past it.

    bound : in the base unit of the quantity
    effect : "stop" holds the batch until it is put right, "caution" must be heard
    """

    id: str
    quantity: str
    bound: float
    unit: Unit
    side: Literal["above", "from", "below"]
    region: str
    effect: Literal["stop", "caution"]
    words: str
    source: str

    def trips(self, value: float) -> bool:
        """Whether a value lies past the bound; one equal to it only where it trips "from" there."""
        if self.side == "from":
            return value >= self.bound
        return value > self.bound if self.side == "above" else value < self.bound


@cache
def all_limits() -> tuple[Limit, ...]:
    """Every limit of every table, in file and line order.

    >>> [limit.bound for limit in all_limits() if limit.id == "ph-acid-food"]
    [4.6]
    """
    tables = sorted(
        (p for p in files(__package__).iterdir() if p.name.endswith(".toml")), key=lambda p: p.name
    )
    rows = (row for table in tables for row in tomllib.loads(table.read_text("utf-8"))["limit"])
    return tuple(Limit(**row) for row in rows)


def tripped(quantity: str, value: float) -> Limit | None:
    """The gravest limit that a value trips, or None: stops first, then the farthest bound passed.

    >>> tripped("ph", 4.6).id, tripped("ph", 4.59).id, tripped("ph", 4.0)
    ('ph-acid-food', 'ph-makers', None)
    """
    passed = [limit for limit in all_limits() if limit.quantity == quantity and limit.trips(value)]
    return max(passed, key=_gravity, default=None)


def _gravity(limit: Limit) -> tuple[bool, float]:
    return limit.effect == "stop", -limit.bound if limit.side == "below" else limit.bound


def limit_named(limit_id: str | None) -> Limit | None:
    """The limit of that id; None for another, or for none.

    >>> limit_named("ph-acid-food").effect, limit_named(None)
    ('stop', None)
    """
    return next((limit for limit in all_limits() if limit.id == limit_id), None)


def the_limit(limit_id: str) -> Limit:
    """The limit of that id; KeyError for another.

    >>> the_limit("ph-makers").bound
    4.0
    """
    found = limit_named(limit_id)
    if found is None:
        raise KeyError(limit_id)
    return found
