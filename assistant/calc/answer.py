"""The answer to one calculation asked for alone, with its working, and the checks behind it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

Kind = Literal["independent", "other form", "same source", "arithmetic"]
"""How much a check proves. Independent: measured or tabulated by others than the formula's source.
Other form: another published formula for the same thing, so their difference is told, not an error.
Same source: the formula's own table, which shows that it was copied rightly. Arithmetic: follows
by reckoning alone, which shows that the code does what it says."""


@dataclass(frozen=True)
class Answer:
    """One calculation, shown in full.

    answer : one sentence with the result and its unit
    values : the numbers, each name ending in its unit (`sugar_g`, `ph_low`)
    working : the steps, a line each, with the numbers put in
    source : where the formula is published, or whose rule it is
    valid : the range it holds for
    cautions : what the cook must hear with it
    """

    answer: str
    values: dict[str, float]
    working: tuple[str, ...]
    source: str
    valid: str
    cautions: tuple[str, ...] = field(default=())


@dataclass(frozen=True)
class Check:
    """A formula held against a published table.

    formula : name of what is checked, source : the published table, unit : of the difference
    function : called with each row's inputs; rows : (inputs, published value)
    tolerance : largest difference that passes, by what the source's own figures are good for
    kind : how much it proves
    catches : a formula that is wrong by this share of itself, either way, does not pass [-]
    """

    formula: str
    source: str
    unit: str
    function: Callable[..., float]
    rows: tuple[tuple[tuple[float, ...], float], ...]
    tolerance: float
    kind: Kind
    catches: float = 0.05

    def largest_difference(self) -> float:
        """The largest difference between formula and table. [unit]"""
        return max(abs(self.function(*inputs) - published) for inputs, published in self.rows)
