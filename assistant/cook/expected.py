"""What the plan lets expect of an amount, juice, syrup or bottles, and how far off is far."""

from dataclasses import dataclass
from math import ceil

from assistant.base.units import Unit
from assistant.calc.density import mass_of_volume
from assistant.calc.spread import Spread, carry
from assistant.cook.amounts import quantity
from assistant.cook.batch import Batch
from assistant.cook.due import due
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import juice, made_up_volume, syrup
from assistant.facts.asked import FAR_OFF
from assistant.facts.events import Reading
from assistant.facts.stuff import stuff_words

SMALLEST_ML, LARGEST_ML = 100.0, 1500.0
"""Bottles that people fill, where nobody says of what size (common practice, no source). [ml]"""
MORE_THAN_IS_THERE = 1.1
"""So much more than the syrup there can be is no slip of a jug (common practice, no source)."""

LEAST_SHARE = 0.5
"""Of the least syrup there is, so much goes into bottles (common practice, no source)."""


@dataclass(frozen=True)
class Expected:
    """A planned amount with its spread, in a base unit."""

    likely: float
    low: float
    high: float
    unit: Unit

    def far_off(self, value: float) -> bool:
        """Whether a value is off by more than a third, and outside the spread."""
        off = abs(value - self.likely) > FAR_OFF * self.likely
        return off and not self.low <= value <= self.high

    def told(self) -> Quantity:
        """As an amount to be said."""
        return Quantity(value=self.likely, unit=self.unit)


def expected_amount(batch: Batch, name: str) -> Expected | None:
    """What goes in under that name; None where nothing is planned."""
    planned = due(batch, name)
    if planned is None or planned.value <= 0:
        return None
    low, high = planned.low or planned.value, planned.high or planned.value
    return Expected(planned.value, low, high, planned.unit)


def expected_juice(batch: Batch, kind: str) -> Expected | None:
    """The juice that is to be there before it is measured, by volume or by mass."""
    if batch.start is None or batch.recipe.base == "juice":
        return None
    wanted, stock = made_up_volume(batch), juice(batch)
    if stock is None or wanted <= 0:
        return None
    if kind == "volume":
        return Expected(wanted, wanted, wanted, "ml")
    mass = carry(mass_of_volume, wanted, stock.brix)
    return _of(mass, "g")


def expected_syrup(batch: Batch, kind: str) -> Expected | None:
    """The syrup that there is likely to be, by volume or by mass."""
    stock = syrup(batch)
    if stock is None:
        return None
    return _of(stock.volume_ml, "ml") if kind == "volume" else _of(stock.mass_g, "g")


def bottles_that_fit(batch: Batch, size_ml: float | None) -> tuple[int, int] | None:
    """The fewest and the most bottles that the syrup can fill; None where nothing tells.

    Filled with less than half of the syrup is as odd as with more than there is.
    """
    stock = syrup(batch)
    if stock is None or stock.volume_ml.high <= 0:
        return None
    fewest = LEAST_SHARE * stock.volume_ml.low / (size_ml or LARGEST_ML)
    most = MORE_THAN_IS_THERE * stock.volume_ml.high / (size_ml or SMALLEST_ML)
    return max(1, ceil(fewest)), max(1, int(most))


def off_plan_line(event: Reading, expected: Expected, words: str = "") -> Line:
    """The question about an amount far off the plan; `words` are for what it is of."""
    facts: dict[str, Fact] = {
        "said": Quantity(value=event.value, unit=event.unit, exact=True),
        "stuff": words or stuff_words(event.what),
        "planned": expected.told(),
    }
    return Line(id="ask_off_plan", rank="question", facts=facts)


def odd_count(batch: Batch, count: int, size_ml: float | None) -> tuple[Line, ...]:
    """The question about a count that the syrup can't fill, or that leaves most of it."""
    fit, stock = bottles_that_fit(batch, size_ml), syrup(batch)
    if fit is None or stock is None or fit[0] <= count <= fit[1]:
        return ()
    facts: dict[str, Fact] = {"count": count, "syrup": quantity(stock.volume_ml, "ml").likely()}
    line_id = "ask_bottles_many" if count > fit[1] else "ask_bottles_few"
    return (Line(id=line_id, rank="question", facts=facts),)


def _of(spread: Spread, unit: Unit) -> Expected:
    return Expected(spread.likely, spread.low, spread.high, unit)
