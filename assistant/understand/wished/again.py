"""The last calculation with another number: "and for a hundred and twenty?" after thirty guests."""

import re

from assistant.base.units import dimension
from assistant.facts.events import Ask, Given
from assistant.understand.wished.marked import marked

_GOES_ON = re.compile(
    r"(?:(?:no|nah|ok|right) )?"
    r"(?:and|or|but|so|(?:and )?how much|(?:and )?what about|how about|(?:and )?what)"
    r"(?: (?:for|with|to|at|in|of|if|it is|i add|we add|i use|about|only|just|one to|by))*"
    r" ([A-Z]\d+)(?: (?:of|people|guests|glasses|each|more|instead|then|sugar|water|citric|acid"
    r"|sorbate|persons|friends|times|bottles|pan|jug|the))*"
)


def again(text: str, subject: Ask | None) -> tuple[Given, ...] | None:
    """The numbers of the last calculation, one of them anew; None where the text is no such thing.

    subject : the last question that was answered
    """
    if subject is None or subject.topic != "reckon" or not subject.given:
        return None
    told = marked(text)
    match = _GOES_ON.fullmatch(told.words)
    if match is None:
        return None
    value, unit = told.numbers[match[1]]
    place = _place(subject.given, loose=match[1].startswith("N"), kind=dimension(unit))
    if place is None:
        return None
    old = subject.given[place]
    new = old.model_copy(update={"value": value, "unit": old.unit if match[1][0] == "N" else unit})
    return (*subject.given[:place], new, *subject.given[place + 1 :])


def _place(given: tuple[Given, ...], loose: bool, kind: str) -> int | None:
    """Which number is meant: the first of its kind; without a unit, the first that is no amount."""
    kinds = [dimension(one.unit) for one in given]
    if not loose:
        return kinds.index(kind) if kind in kinds else None
    plain = (n for n, each in enumerate(kinds) if each not in ("mass", "volume"))
    return next(plain, 0 if len(given) == 1 else None)
