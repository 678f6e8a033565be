"""The answer to "44 degrees or 44 grams?" by the unit or the name alone."""

from fractions import Fraction

from assistant.base.units import Unit
from assistant.facts.events import Reading
from assistant.understand.bounds import number_in
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.resolve import Events
from assistant.understand.verdict import Question
from assistant.understand.words import to_words

_LEADS = frozenset(
    ("the", "it's", "it", "is", "in", "they're", "i", "mean", "meant", "was", "that", "that's")
)
_NAMES = {"temperature": ("temperature", "thermometer"), "ph": ("ph", "p h", "acidity")}


def by_unit(text: str, pending: Question | None) -> tuple[Events, ...]:
    """The candidates that a lone unit or name picks, () for none."""
    if pending is None or pending.reason != "quantity":
        return ()
    words = tuple(word for word in to_words(text) if word not in _LEADS)
    if not words or len(words) > 2:
        return ()
    return tuple(c for c in pending.candidates if _is_meant(c, words))


def _is_meant(candidate: Events, words: tuple[str, ...]) -> bool:
    event = number_in(candidate)
    if not isinstance(event, Reading):
        return False
    names = (*_NAMES.get(event.what, ()), event.what.replace("_", " "))
    return " ".join(words) in names or unit_said(words) == event.unit


def unit_said(words: tuple[str, ...]) -> Unit | None:
    """The unit that some words are, found by a number before them; None for none or several."""
    meant = [p.meant for p in parse(to_words(f"two {' '.join(words)}")) if not p.cost]
    said = [m for m in meant if isinstance(m, Amount) and m.value == Fraction(2)]
    units: set[Unit | None] = {
        m.unit or ("degC" if m.what == "temperature" else None) for m in said
    }
    return units.pop() if len(units) == 1 else None
