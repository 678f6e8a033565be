"""What was learnt from a batch, in words for the one that repeats it."""

from typing import Any

from assistant.base.units import Unit
from assistant.facts.stuff import stuff_words
from assistant.planning.again import Hint
from assistant.report.told import told


def hint_record(hint: Hint) -> dict[str, Any]:
    """A hint as a plain object."""
    return {
        "what": hint.name,
        "last": round(hint.last, 3),
        "unit": hint.unit,
        "planned": None if hint.planned is None else round(hint.planned, 3),
        "now": None if hint.scaled is None else round(hint.scaled, 3),
    }


def hint_words(hint: Hint, each: str = "kilo") -> str:
    """A hint as a sentence that starts with "last time".

    each : what a yield is told for, "kilo" of fruit or "litre" of juice or water

    >>> hint_words(Hint("amount", "citric_acid", 14.0, "g", planned=11.6, scaled=13.4))
    'last time 14 g of citric acid went in where 11.6 g were planned; now that is 13.4 g'
    """
    match hint.kind:
        case "amount":
            went_in = f"{_last(hint)} of {stuff_words(hint.name)} went in"
            return f"{went_in} where {_planned(hint)}{_now(hint)}"
        case "juice":
            return f"{_last(hint)} of juice came where {_planned(hint)}{_now(hint)}"
        case "bottled":
            return f"{_last(hint)} were bottled where {_planned(hint, 'reckoned')}{_now(hint)}"
        case "hold":
            return f"{_last(hint)} of the hold counted where {_planned(hint)}: call the thermometer"
        case "ph":
            return f"last time the pH was {hint.last:g}"
        case "brix":
            return f"last time the syrup read {hint.last:g} °Bx"
        case "yield":
            expect = "" if hint.scaled is None else f"; expect {_of(hint.scaled, 'ml')} now"
            return f"{_last(hint)} of syrup came from each {each}{expect}"
        case "keep":
            return f"last time the rule gave {hint.last:g} days in the fridge"


def _of(value: float, unit: Unit) -> str:
    return told(value, unit)


def _last(hint: Hint) -> str:
    return f"last time {_of(hint.last, hint.unit)}"


def _planned(hint: Hint, how: str = "planned") -> str:
    return f"{_of(hint.planned or 0.0, hint.unit)} were {how}"


def _now(hint: Hint) -> str:
    return "" if hint.scaled is None else f"; now that is {_of(hint.scaled, hint.unit)}"
