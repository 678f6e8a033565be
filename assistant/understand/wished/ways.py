"""Which calculation a sentence asks for, by the ways of asking in `ways.toml`."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import count, product
from typing import cast

from assistant.base.units import Unit
from assistant.facts.events import Given
from assistant.understand.wished.marked import marked

TO = "to"
"""A number to get to, of whatever it may be: "take it to 70"."""
_SLOT = re.compile(r"\{(\w+):([A-Z]+)(?:=([^}]+))?\}")
_WORD = re.compile(r"\{(\w+)\}")
_APART = "__"
_NAMED: tuple[float, Unit] = (1.0, "count")
"""What a group stands for that names a thing and no number."""
_PLAINLY_TOLD = re.compile(
    r"[a-z]+|(?:ph )?[\d.,]+ ?(?:kg|g|kilos?|grams?|l|ml|litres?|degrees?|°?[cf])?(?: of [a-z ]+)?",
    re.I,
)
"""A word, or a bare amount: no wish, so that the first line of a batch waits for no patterns."""
_READ_OFF = re.compile(
    r"(?:it|this|that|we|i|(?:the )?(?:meter|refractometer|reading|brix|p h|thermometer|syrup|pan))"
    r"(?: (?:is|are|am|says|reads|shows|read|at|now))+ (N\d+)(?: now)?"
)
_SENTENCE = re.compile(
    r"(?<=[.!?;])\s+|(?:,\s+|,?\s+(?:so|and|but)\s+)(?=(?:so |and )?(?:how|what|can|could|will)\b)",
    re.I,
)


@dataclass(frozen=True)
class Wish:
    """A calculation that is asked for.

    subject : its name in `ways.toml`
    given : the numbers that were named
    before : what was said before it in sentences of their own
    text : the words of the wish alone
    loose : for a number without a unit, its mark's letter is N
    """

    subject: str
    given: tuple[Given, ...]
    before: str = ""
    text: str = ""
    loose: bool = False

    def number(self, name: str) -> Given | None:
        """The number of that name."""
        return next((one for one in self.given if one.name == name), None)


@dataclass(frozen=True)
class _Way:
    subject: str
    pattern: re.Pattern[str]
    units: dict[str, Unit]


def wish(text: str) -> Wish | None:
    """The calculation that a text asks for, whole or in its last sentence; None where it asks none.

    >>> wish("how much sugar to get it to 65?").subject
    'to_brix'
    """
    if _PLAINLY_TOLD.fullmatch(text.strip()):
        return None
    found = _wish(text)
    if found is not None:
        return found
    parts = list(_SENTENCE.finditer(text.strip()))
    if not parts:
        return None
    before, last = text.strip()[: parts[-1].start()], text.strip()[parts[-1].end() :]
    found = _wish(last)
    return found and Wish(found.subject, found.given, before, last, found.loose)


def read_off(text: str) -> float | None:
    """The one number without a unit that a text reads off a meter; None where it is none such.

    >>> read_off("It reads 58.")
    58.0
    """
    told = marked(text)
    match = _READ_OFF.fullmatch(_plain(told.words))
    return told.numbers[match[1]][0] if match else None


def brix_in(text: str) -> float | None:
    """The first Brix that a text names.

    >>> brix_in("stretch it with the 50 Brix one")
    50.0
    """
    return next((value for value, unit in marked(text).numbers.values() if unit == "Brix"), None)


def _wish(text: str) -> Wish | None:
    told = marked(text)
    for way, words in product(_ways(), (told.words, _plain(told.words))):
        match = way.pattern.fullmatch(words)
        if match is None:
            continue
        given = tuple(_given(match, way, told.numbers))
        loose = any(mark.startswith("N") for mark in match.groupdict().values() if mark)
        return Wish(way.subject, given, text=text, loose=loose)
    return None


def _given(
    match: re.Match[str], way: _Way, numbers: dict[str, tuple[float, Unit]]
) -> Iterator[Given]:
    for slot, mark in match.groupdict().items():
        if mark is None:
            continue
        value, unit = numbers.get(mark, _NAMED)
        if mark.startswith("N"):
            unit = way.units.get(slot, unit)
        yield Given(name=slot.partition(_APART)[0], value=value, unit=unit)


def _plain(words: str) -> str:
    lead, tail = _edges()
    return tail.sub("", lead.sub("", words)).strip()


@cache
def _file() -> dict[str, dict[str, object]]:
    return tomllib.loads(files(__package__).joinpath("ways.toml").read_text("utf-8"))


@cache
def _edges() -> tuple[re.Pattern[str], re.Pattern[str]]:
    edges = _file()["edges"]
    return re.compile(f"^(?:(?:{edges['lead']}) )+"), re.compile(f"(?: (?:{edges['tail']}))+$")


@cache
def _ways() -> tuple[_Way, ...]:
    groups = _file()["groups"]
    asked: dict[str, list[str]] = _file()["ways"]  # type: ignore[assignment]
    return tuple(
        _Way(subject, *_compiled(said, groups)) for subject, ways in asked.items() for said in ways
    )


def _compiled(said: str, groups: dict[str, object]) -> tuple[re.Pattern[str], dict[str, Unit]]:
    """A way as a pattern: groups written out, slots as marks of the letters that they take."""
    units: dict[str, Unit] = {}
    places = count()

    def slot(match: re.Match[str]) -> str:
        name, letters, unit = match.groups()
        name = f"{name}{_APART}{next(places)}"  # a slot may stand in several branches
        if unit:
            units[name] = cast(Unit, unit)
        return rf"(?P<{name}>[{letters}]\d+)"

    while _WORD.search(said):
        said = _WORD.sub(lambda match: f"(?:{groups[match[1]]})", said)
    return re.compile(_SLOT.sub(slot, said)), units
