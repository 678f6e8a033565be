"""Numbers, amounts, things and marks inside a clause, found with the grammars' own rules."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from assistant.understand.meant import Thing
from assistant.understand.parsing import parser

Kind = Literal["amount", "dose", "degrees", "bare"]
_RULES: tuple[tuple[str, Kind], ...] = (
    ("grams_a_litre", "dose"), ("milligrams_a_litre", "dose"), ("amount", "amount"),
    ("so_many_degrees", "degrees"), ("acid_number", "bare"), ("bare_number", "bare"),
)  # fmt: skip
_LEADS = frozenset(["it", "is", "we", "are", "that", "at", "now"])
_TAIL = frozenset(("now",))
_NO_NUMBER = frozenset(
    (("oh",), ("one",), ("half",), ("a", "half"), ("one", "half"), ("quarter",), ("a", "quarter"),
     ("a", "third"), ("one", "third"), ("two", "thirds"), ("three", "quarters"), ("one", "quarter"),
     ("a", "hundred", "and"))
)  # fmt: skip
_STUFF = re.compile(
    r"\b(sugar|water|juice|syrup|citric acid|citric|lemon acid|acid|ascorbic acid|ascorbic"
    r"|vitamin c|glycerine?|glycerol|potassium sorbate|sorbate|vinegar|malic acid|malic"
    r"|kettle(?= (?:is |has |goes |all )*(?:in|gone|went|poured|tipped)\b)"
    r"|sodium benzoate|benzoate|sulphite|gum arabic|gum)\b"
)
_KEY = {
    "citric": "citric_acid", "citric acid": "citric_acid", "lemon acid": "citric_acid",
    "acid": "citric_acid", "ascorbic": "ascorbic_acid", "ascorbic acid": "ascorbic_acid",
    "vitamin c": "ascorbic_acid", "glycerine": "glycerin", "glycerol": "glycerin",
    "potassium sorbate": "sorbate", "sodium benzoate": "benzoate",
    "malic": "malic_acid", "malic acid": "malic_acid",
    "kettle": "water", "gum": "gum_arabic", "gum arabic": "gum_arabic", "syrup": "yield",
}  # fmt: skip


@dataclass(frozen=True)
class Quantity:
    """A number with its unit as far as said: where it stands, and its words."""

    kind: Kind
    begin: int
    end: int
    words: tuple[str, ...]


@dataclass(frozen=True)
class Named:
    """A thing that was named: where, what it is a reading of, and which fruit it is."""

    begin: int
    end: int
    what: str
    fruit: str | None = None


@lru_cache(maxsize=512)
def quantities(words: tuple[str, ...]) -> tuple[Quantity, ...]:
    """The numbers and amounts, in order, none within another."""
    found = parser().within(words, tuple(rule for rule, _ in _RULES))
    taken: list[Quantity] = []
    for rule, kind in _RULES:
        for begin, end in sorted(found.get(rule, ()), key=lambda span: span[0] - span[1]):
            one = _trimmed(kind, begin, end, words)
            if one and not any(one.begin < q.end and q.begin < one.end for q in taken):
                taken.append(one)
    return tuple(sorted(taken, key=lambda q: q.begin))


def _trimmed(kind: Kind, begin: int, end: int, words: tuple[str, ...]) -> Quantity | None:
    while kind == "degrees" and begin < end and words[begin] in _LEADS:
        begin += 1
    while kind == "degrees" and end > begin and words[end - 1] in _TAIL:
        end -= 1
    said = words[begin:end]
    if not said or (kind == "bare" and said in _NO_NUMBER):
        return None
    if kind == "amount" and said[0] in ("a", "an") and len(said) == 2 and said[1] == "c":
        return None
    return Quantity(kind, begin, end, said)


@lru_cache(maxsize=512)
def things(words: tuple[str, ...]) -> tuple[Named, ...]:
    """What is named that a reading can be of, in order."""
    found = [
        Named(begin, end, *_which(words[begin:end]))
        for begin, end in parser().within(words, ("fruit",)).get("fruit", ())
    ]
    text, starts = " ".join(words), _starts(words)
    for match in _STUFF.finditer(text):
        if match.start() not in starts:  # within a word that has odd characters in it
            continue
        begin, end = starts.index(match.start()), text.count(" ", 0, match.end()) + 1
        found.append(Named(begin, end, _KEY.get(match[0], match[0])))
    found += [Named(n, n + 1, "fruit") for n, w in enumerate(words) if w in _FRUIT]
    return tuple(sorted(_apart(found), key=lambda one: one.begin))


_FRUIT = ("fruit", "fruits", "berries", "berry", "currants", "currant")


def _apart(found: list[Named]) -> list[Named]:
    """Without those that lie within another."""
    longest = sorted(found, key=lambda one: one.begin - one.end)
    kept: list[Named] = []
    for one in longest:
        if not any(one.begin < k.end and k.begin < one.end for k in kept):
            kept.append(one)
    return kept


def _starts(words: tuple[str, ...]) -> list[int]:
    at, starts = 0, []
    for word in words:
        starts.append(at)
        at += len(word) + 1
    return starts


def _which(words: tuple[str, ...]) -> tuple[str, str | None]:
    values = parser().values(words, "thing")
    named = [v[0] for v in values if v and isinstance(v[0], Thing)]
    return ("fruit", named[0].fruit) if named else ("fruit", None)
