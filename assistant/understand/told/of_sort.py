"""Which of the bottles in store a clause names: by size, small or large, jar, or a volume.

"Two of the half litres", "a 330", "the small ones", "the jar", and "three litres of it", which is
worked out from the sizes that are there.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.facts.asked import Asked
from assistant.facts.vessels import Vessel
from assistant.understand.parsing import parser
from assistant.understand.told.sizes import RELATIVE, in_ml, kind_of, meant_ml
from assistant.understand.told.tokens import Token, counts_ml, size_ml, spelled, tokens_of, usual
from assistant.understand.words import to_words

Left = Sequence[tuple[Vessel, int]]
_SAME_ML = 1.0
"""Sizes no further apart are one. [ml]"""
_NEAR_ML = 5.0
"""A volume told of bottles is as exact as that. [ml]"""
_LARGEST_ML = 10_000
_PART = re.compile(r"\b(part|part full|half full|part filled|half filled|half) (bottle|jar|one)\b")
_OPEN = re.compile(r"\b(open|opened) (one|ones|bottles?|jars?)\b")
_LITRES = {"litres": 1000.0, "litre": 1000.0, "pints": size_ml(("one", "pint")) or 0.0}


@dataclass(frozen=True)
class OfSort:
    """What a clause says of which bottles.

    count : in words, "" where it says none
    vessels : the sorts that it can be, () where it names none
    asked_ml : a size that was named and none has [ml]
    volume : the words of a volume that stands for bottles, and how much it is [ml]
    said : how many words tell it
    """

    count: str = ""
    vessels: tuple[Vessel, ...] = ()
    asked_ml: float | None = None
    volume: tuple[str, float] | None = None
    said: int = 0

    @property
    def named(self) -> bool:
        """Whether it says anything of it."""
        return bool(self.vessels or self.asked_ml or self.volume)


def of_sort(words: tuple[str, ...], asked: Asked) -> OfSort:
    """What a clause says of which bottles, by those that the batch has."""
    plain, left, sizes = usual(words), asked.sorts, dict(asked.sizes)
    fitting = _by_word(" ".join(plain), tuple(vessel for vessel, _ in left))
    if _OPEN.search(" ".join(plain)) and len(left) > 1:
        fitting = tuple(v for v in fitting if v in asked.opened) or fitting
    by_size = _by_size(plain, fitting)
    if by_size is not None:
        return by_size
    relative = RELATIVE.search(" ".join(plain))
    if relative:
        vessels = _relative(relative[1], fitting, sizes)
        return OfSort(_count(tokens_of(plain)), vessels, said=len(relative[0].split()))
    told = fitting if len(fitting) < len(left) else ()
    return OfSort(_count(tokens_of(plain)), told, said=2 if told else 0)


def _by_word(text: str, vessels: tuple[Vessel, ...]) -> tuple[Vessel, ...]:
    """Jars or bottles, where there are both and one is named; one that is not full."""
    found = vessels
    if _PART.search(text):
        found = tuple(v for v in found if v.holds_ml is not None) or found
    if re.search(r"\bjars?\b", text):
        return tuple(v for v in found if v.of == "jar") or found
    if re.search(r"\bbottles?\b", text):
        return tuple(v for v in found if v.of == "bottle") or found
    return found


def _by_size(words: tuple[str, ...], vessels: tuple[Vessel, ...]) -> OfSort | None:
    """A size that is named, with the count before it; None where there is no size."""
    tokens = tokens_of(words)
    for n, token in enumerate(tokens):
        ahead = next((t for t in reversed(tokens[:n]) if t.kind != "bottle"), None)
        counted = ahead.words if ahead and ahead.kind == "count" else ()
        if token.kind == "count" and counts_ml(token.words):
            ml = size_ml((*token.words, "millilitres"))
        elif token.kind == "size":
            ml = size_ml(token.words)
        else:
            continue
        if ml is not None:
            return _sized(token, counted, ml, words, vessels)
    return _by_unit(words, tokens, vessels)


def _sized(
    token: Token,
    counted: tuple[str, ...],
    ml: float,
    words: tuple[str, ...],
    vessels: Sequence[Vessel],
) -> OfSort:
    alike = _of_size(ml, vessels)
    count = " ".join(spelled(counted)) if counted else "one" if alike else ""
    said = len(token.words) + len(counted) + 1
    if alike:
        return OfSort(count, alike, said=said)
    parted = _parted(token, vessels)
    if parted is not None:
        return parted
    split = bool(counted) and counted == words[token.begin - len(counted) : token.begin]
    litres = split and token.words[0] == "one" and words[token.begin] != "one"
    if token.kind == "count" or (counted and not litres):
        return OfSort(count or "one", asked_ml=ml, said=said)
    many = number_in(counted) if counted else 1
    volume = " ".join((*counted, *words[token.begin : token.end]))
    return OfSort(volume=(volume, many * ml), said=said)


def _parted(token: Token, vessels: Sequence[Vessel]) -> OfSort | None:
    """ "Two thirty three centilitres": two of 33, where there are such."""
    count, size = token.words[:1], token.words[1:]
    ml = size_ml(size) if number_in(count) and number_in(size[:1]) else None
    alike = _of_size(ml, vessels) if ml else ()
    return OfSort(" ".join(count), alike, said=len(token.words)) if alike else None


def _by_unit(
    words: tuple[str, ...], tokens: Sequence[Token], vessels: Sequence[Vessel]
) -> OfSort | None:
    """ "One of the litres": the unit alone."""
    for word, ml in _LITRES.items():
        if word in words and (alike := _of_size(ml, vessels)):
            return OfSort(_count(tokens), alike, said=2)
    return None


def _of_size(ml: float, vessels: Sequence[Vessel]) -> tuple[Vessel, ...]:
    """Those of a size; the full ones, where some are not."""
    alike = tuple(v for v in vessels if v.size_ml and abs(v.size_ml - ml) <= _SAME_ML)
    full = tuple(v for v in alike if v.holds_ml is None)
    return full or alike


def _relative(
    word: str, vessels: tuple[Vessel, ...], sizes: dict[str, float]
) -> tuple[Vessel, ...]:
    """The smallest or the largest there are, or what the recipe means by the word."""
    known = meant_ml(word, sizes)
    alike = _of_size(known, vessels) if known else ()
    told = [v.size_ml for v in vessels if v.size_ml is not None]
    if alike or not told:
        return alike
    between = sorted(set(told))
    ends = {"small": between[:1], "large": between[-1:], "medium": between[1:-1]}
    wanted = ends[kind_of(word)]
    return _of_size(wanted[0], vessels) if len(wanted) == 1 else ()


def _count(tokens: Sequence[Token]) -> str:
    found = (t for t in tokens if t.kind == "count" and not counts_ml(t.words))
    return next((" ".join(spelled(t.words)) for t in found), "")


def number_in(words: tuple[str, ...]) -> int:
    """A whole number in words; 0 for what is none."""
    values = parser().values(spelled(words), "whole") if words else {}
    return next((int(value[0]) for value in values), 0)


def in_words(vessel: Vessel, count: int = 0) -> str:
    """A sort in the grammars' words: "bottles of five hundred millilitres"."""
    noun = vessel.of if count == 1 else f"{vessel.of}s"
    size = f" of {in_ml(vessel.size_ml)}" if vessel.size_ml else ""
    held = f" holding {in_ml(vessel.holds_ml)}" if vessel.holds_ml else ""
    return f"{noun}{size}{held}"


def in_count(count: int) -> str:
    """A count in plain words."""
    return " ".join(to_words(str(count)))


def made_up_of(volume_ml: float, left: Left, most: int = 2) -> list[tuple[tuple[Vessel, int], ...]]:
    """The ways in which bottles that are left make a volume, so many at the most. [ml]"""
    known = [(v, v.inside_ml, count) for v, count in left if v.inside_ml and count]
    if volume_ml > _LARGEST_ML * sum(count for _, _, count in known):
        return []
    found: list[tuple[tuple[Vessel, int], ...]] = []
    for way in _ways(volume_ml, known):
        found.append(way)
        if len(found) >= most:
            break
    return found


def _ways(
    volume_ml: float, known: list[tuple[Vessel, float, int]]
) -> Iterator[tuple[tuple[Vessel, int], ...]]:
    if abs(volume_ml) <= _NEAR_ML:
        yield ()
        return
    if volume_ml < 0 or not known:
        return
    (vessel, each, count), *others = known
    for taken in range(min(count, int((volume_ml + _NEAR_ML) // each)), -1, -1):
        here = ((vessel, taken),) if taken else ()
        for way in _ways(volume_ml - taken * each, others):
            yield (*here, *way)
