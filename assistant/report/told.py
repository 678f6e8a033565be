"""Amounts and spreads as they stand in a report."""

from assistant.base.units import Unit
from assistant.calc.spread import Spread
from assistant.cook.reply import Quantity
from assistant.say.amounts import by_eye


def told(value: float, unit: Unit) -> str:
    """An amount as it is written.

    >>> told(2430, "g")
    '2.43 kg'
    """
    return by_eye(Quantity(value=value, unit=unit))


def told_spread(spread: Spread, unit: Unit) -> str:
    """An amount with its spread.

    >>> told_spread(Spread(4800, 5000, 5200), "g")
    '5 kg (4.8–5.2)'
    """
    return by_eye(Quantity(value=spread.likely, unit=unit, low=spread.low, high=spread.high))


def ends(spread: Spread, digits: int = 1) -> dict[str, float]:
    """A spread as a plain object.

    >>> ends(Spread(1.04, 2.0, 3.0))
    {'low': 1.0, 'likely': 2.0, 'high': 3.0}
    """
    return {
        "low": round(spread.low, digits),
        "likely": round(spread.likely, digits),
        "high": round(spread.high, digits),
    }
