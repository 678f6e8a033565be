"""The answer to one calculation asked for alone, with its working, and the checks behind it."""

from collections.abc import Callable
from dataclasses import dataclass, field


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
    tolerance : largest difference that passes
    """

    formula: str
    source: str
    unit: str
    function: Callable[..., float]
    rows: tuple[tuple[tuple[float, ...], float], ...]
    tolerance: float

    def largest_difference(self) -> float:
        """The largest difference between formula and table. [unit]"""
        return max(abs(self.function(*inputs) - published) for inputs, published in self.rows)
