"""Short text for what words come to, so that the phrasebook can name it."""

from fractions import Fraction
from typing import Any

from assistant.facts.vessels import Vessel
from assistant.understand.meaning_of_bottles import Counted, Holding
from assistant.understand.meant import Amended, Amount, Pick, Plain, Short, Thing


def told(values: tuple[Any, ...]) -> str:
    """The values of a rule in words."""
    return " ".join(_one(value) for value in values)


def _one(value: Any) -> str:
    match value:
        case Fraction():
            return _number(value)
        case Short(number):
            return f"short {_number(number)}"
        case Amount():
            return _amount(value)
        case Amended(amount):
            return f"instead {_amount(amount)}"
        case Thing(what, fruit):
            return f"{what} {fruit}" if fruit else what
        case Pick(which):
            return f"pick {which}"
        case Plain(kind, fields):
            return " ".join([kind, *(f"{name}={_plain(v)}" for name, v in fields)])
        case _:
            return _of_bottles(value)


def _of_bottles(value: Any) -> str:
    match value:
        case Counted(count, vessel):
            return f"{count} {_vessel(vessel)}" if vessel else f"{count}"
        case Vessel():
            return _vessel(value)
        case Holding(amount):
            return _amount(amount)
        case _:
            return str(value)


def _vessel(vessel: Vessel) -> str:
    size = f"{vessel.size_ml:g}" if vessel.size_ml else "any"
    held = f" holding {vessel.holds_ml:g}" if vessel.holds_ml else ""
    return f"{vessel.of} {size}{held}"


def _number(value: Fraction) -> str:
    decimal = f"{float(value):.6g}"
    return decimal if Fraction(decimal) == value else str(value)


def _plain(value: Any) -> str:
    if isinstance(value, Vessel):
        return _vessel(value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _amount(amount: Amount) -> str:
    parts = ["short" if amount.short else "", _number(amount.value), amount.unit, amount.what]
    return " ".join(part for part in (*parts, amount.fruit) if part)
