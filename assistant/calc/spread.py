"""A number with its spread: low, likely, high."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product


@dataclass(frozen=True, order=True)
class Spread:
    """Low, likely and high value of one quantity; low <= likely <= high.

    >>> Spread(58, 61, 64).about(59)
    True
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"not in order: {self.low}, {self.likely}, {self.high}")

    @classmethod
    def exactly(cls, value: float) -> "Spread":
        """A number without a spread."""
        return cls(value, value, value)

    @classmethod
    def within(cls, value: float, share: float) -> "Spread":
        """A number known to plus or minus a share of itself.

        >>> Spread.within(200, 0.1)
        Spread(low=180.0, likely=200, high=220.0)
        """
        half = abs(value) * share
        return cls(value - half, value, value + half)

    def about(self, value: float) -> bool:
        """Whether a value lies between low and high."""
        return self.low <= value <= self.high


def carry(function: Callable[..., float], *inputs: Spread | float) -> Spread:
    """The spread of a result from the spread of its inputs.

    The function is tried at every corner of the inputs, which bounds the result where it rises
    or falls steadily with each input, as the functions of this package do.

    >>> carry(lambda a, b: a * b, Spread(1, 2, 3), 10)
    Spread(low=10, likely=20, high=30)
    """
    spreads = [i if isinstance(i, Spread) else Spread.exactly(i) for i in inputs]
    corners = {function(*c) for c in product(*({s.low, s.high} for s in spreads))}
    likely = function(*(s.likely for s in spreads))
    return Spread(min(*corners, likely), likely, max(*corners, likely))
