"""What a maker wants: so many bottles, litres or guests, or to use up the fruit there is."""

from dataclasses import dataclass
from typing import Literal

from assistant.calc.bounds import inside
from assistant.calc.serve import Glass, dilute

Kind = Literal["bottles", "litres", "guests", "fruit"]

_MOST: dict[Kind, tuple[float, float, str]] = {
    "bottles": (1.0, 500.0, ""),
    "litres": (0.05, 200.0, "l"),
    "guests": (1.0, 5000.0, ""),
    "fruit": (0.1, 50.0, "kg"),
}
"""What a small kitchen can mean. Common practice, no source."""


@dataclass(frozen=True)
class Wish:
    """What is wanted.

    amount : bottles or guests [-], litres [l], fruit [kg]
    bottle_ml : in each bottle [ml]
    others : bottles of other sizes that are wanted besides, as count and size [-, ml]
    glasses : for each guest [-]; glass_ml : of the drink [ml]; drink_brix : its sweetness [mass %]
    OutOfRange for what no small kitchen can mean.

    >>> Wish("bottles", 12, bottle_ml=330).amount
    12
    """

    kind: Kind
    amount: float
    bottle_ml: float = 500.0
    glasses: float = 2.0
    glass_ml: float = 200.0
    drink_brix: float = 10.0
    others: tuple[tuple[int, float], ...] = ()

    def __post_init__(self) -> None:
        low, high, unit = _MOST[self.kind]
        inside(self.kind, self.amount, low, high, unit)
        inside("bottle", self.bottle_ml, 20.0, 10_000.0, "ml")
        for count, size_ml in self.others:
            inside("bottles", count, 1, 500)
            inside("bottle", size_ml, 20.0, 10_000.0, "ml")
        inside("glasses for each guest", self.glasses, 0.1, 50.0)
        inside("glass", self.glass_ml, 20.0, 2_000.0, "ml")
        inside("Brix of the drink", self.drink_brix, 1.0, 25.0)

    @property
    def others_ml(self) -> float:
        """What the bottles of other sizes hold. [ml]"""
        return sum(count * size_ml for count, size_ml in self.others)

    def glass(self, brix: float) -> Glass | None:
        """A glass of that syrup, or None where it is no sweeter than the drink. brix in mass %."""
        if brix <= self.drink_brix:
            return None
        return dilute(brix, self.drink_brix, self.glass_ml)

    def syrup_ml(self, brix: float) -> float | None:
        """Syrup wanted [ml]; None where the fruit decides, not the wish. brix in mass %."""
        match self.kind:
            case "bottles":
                return self.amount * self.bottle_ml + self.others_ml
            case "litres":
                return 1000.0 * self.amount
            case "guests":
                glass = self.glass(brix)
                each_ml = glass.syrup_ml if glass else self.glass_ml
                return self.amount * self.glasses * each_ml
            case "fruit":
                return None
