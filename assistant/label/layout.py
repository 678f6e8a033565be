"""Where each word of a label stands: as large as fits, never past the edge, never too small."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal, NamedTuple

from assistant.base.errors import WrongUse
from assistant.label.code import QUIET
from assistant.label.content import LabelText, day_words
from assistant.label.fonts import ASCENT, DESCENT, MM_PER_PT, width_mm

LEAST_X_MM = 1.2
"""Least height of a small x. Regulation (EU) No 1169/2011, Art. 13(2). [mm]"""
LEAST_PT = 6.25
"""The smallest size of this face, in quarters of a point, that keeps that height. [pt]"""
MOST_PT = 12.0
_SIZES = [MOST_PT - n / 4 for n in range(int((MOST_PT - LEAST_PT) * 4) + 1)]
_MODULES_MM = (0.6, 0.5, 0.42, 0.36)
"""Sides of a module of the code, the largest that fits is taken; 0.36 mm is about four dots of a
300 dpi printer, the least a telephone reads easily (common practice, no source). [mm]"""


Words = Literal["all", "brief", "front", "back"]


class Piece(NamedTuple):
    """Text at one place: left end and base line from the room's top left corner. [mm], [pt]"""

    x: float
    y: float
    size_pt: float
    bold: bool
    text: str


@dataclass(frozen=True)
class Laid:
    """A label laid out in its room: pieces of text, the rule under the name, the code. [mm]"""

    pieces: tuple[Piece, ...]
    rule_y: float
    code_x: float
    code_y: float
    module_mm: float
    words: Words


class _Word(NamedTuple):
    text: str
    bold: bool = False


@dataclass(frozen=True)
class _Style:
    """How close it is set.

    leading, gap : line height, and white between paragraphs, as shares of the size
    name : the most that the name is larger than the rest
    least_pt : below this the next style is tried
    words : all of them, the brief ones, or those of a front or a back label
    """

    leading: float
    gap: float
    name: float
    least_pt: float
    words: Words


_WHOLE = (
    _Style(1.22, 0.45, 2.2, 7.5, "all"),
    _Style(1.12, 0.12, 2.2, LEAST_PT, "all"),
    _Style(1.06, 0.0, 1.8, LEAST_PT, "brief"),
)
_FRONT = (_Style(1.16, 0.12, 2.0, 7.5, "front"), _Style(1.08, 0.0, 1.5, LEAST_PT, "front"))
_BACK = (_Style(1.16, 0.12, 2.0, 7.5, "back"), _Style(1.08, 0.0, 1.5, LEAST_PT, "back"))


class _Full(Exception):
    """It does not fit at this size."""


def lay_out(text: LabelText, width: float, height: float, code_side: int) -> tuple[Laid, ...]:
    """The label in a room of that size, in the largest letters that fit.

    What does not fit on one label takes two, a front and a back, each with name and code.

    width, height : of the room [mm]; code_side : modules along a side of the code
    WrongUse when two do not do at the least legible size: a small x 1.2 mm high.
    """
    for labels in ((_WHOLE,), (_FRONT, _BACK)):
        try:
            return tuple(_largest(text, width, height, code_side, styles) for styles in labels)
        except _Full:
            continue
    raise WrongUse(
        f"The text does not fit on {width:.0f} × {height:.0f} mm in letters that can be read "
        f"(a small x of {LEAST_X_MM} mm)."
    )


def _largest(
    text: LabelText, width: float, height: float, code_side: int, styles: Sequence[_Style]
) -> Laid:
    for style, size, module in product(styles, _SIZES, _MODULES_MM):
        if size < style.least_pt:
            continue
        try:
            return _Page(width, height, module, code_side, size, style).laid(text)
        except _Full:
            continue
    raise _Full


class _Page:
    """One try at one size. Text runs beside the code, which stands in the lower right corner."""

    def __init__(
        self, width: float, height: float, module: float, side: int, size: float, style: _Style
    ) -> None:
        self.width, self.height, self.module = width, height, module
        self.size, self.style = size, style
        self.code_mm = side * module
        self.y = 0.0
        self.pieces: list[Piece] = []

    def laid(self, text: LabelText) -> Laid:
        """The whole label, or _Full."""
        self._head(text.name, text.volume)
        rule_y = self.y
        self.y += 0.35 * self.em(self.size)
        for size, words in _paragraphs(text, self.size, self.style.words):
            self._paragraph(size, words)
        code_x, code_y = self.width - self.code_mm, self.height - self.code_mm
        if code_x < 0 or code_y - QUIET * self.module < rule_y:
            raise _Full
        return Laid(tuple(self.pieces), rule_y, code_x, code_y, self.module, self.style.words)

    @staticmethod
    def em(size: float) -> float:
        """A size in mm."""
        return size * MM_PER_PT

    def _head(self, name: str, volume: str) -> None:
        """The name, in one line if it can be, with the volume at the right end of the first."""
        small = self.size * 1.2
        room = self.width - width_mm(volume, True, small) - self.em(small)
        words = [_Word(word, True) for word in name.split()]
        size, lines = self._name_lines(words, room)
        for number, line in enumerate(lines):
            base = self._line(size, line, 1.05)
            if number == 0:
                x = self.width - width_mm(volume, True, small)
                self.pieces.append(Piece(x, base, small, True, volume))
        self.y += 0.15 * self.em(self.size)

    def _name_lines(self, words: list[_Word], room: float) -> tuple[float, list[list[_Word]]]:
        for most_lines in (1, 2):
            for tenth in range(round(10 * self.style.name), 12, -1):
                size = self.size * tenth / 10
                try:
                    lines = list(_wrapped(words, size, lambda _y: room, 0.0, 0.0))
                except _Full:
                    continue
                if len(lines) <= most_lines:
                    return size, lines
        raise _Full

    def _paragraph(self, size: float, words: Sequence[_Word]) -> None:
        step = self.style.leading * self.em(size)
        for line in list(_wrapped(words, size, self._room_at(step), self.y, step)):
            self._line(size, line, self.style.leading)
        self.y += self.style.gap * self.em(self.size)

    def _room_at(self, step: float) -> "_RoomAt":
        code_top = self.height - self.code_mm - QUIET * self.module
        beside = self.width - self.code_mm - QUIET * self.module
        return lambda y: beside if y + step > code_top else self.width

    def _line(self, size: float, words: Sequence[_Word], leading: float) -> float:
        """Sets one line at the present height and moves below it; the base line. [mm]"""
        em = self.em(size)
        base = self.y + ((leading - 1) / 2 + ASCENT) * em
        x = 0.0
        for run in _runs(words):
            self.pieces.append(Piece(x, base, size, run.bold, run.text))
            x += width_mm(f"{run.text} ", run.bold, size)
        self.y += leading * em
        if base + DESCENT * em > self.height + 1e-9:
            raise _Full
        return base


_RoomAt = Callable[[float], float]


def _wrapped(
    words: Iterable[_Word], size: float, room_at: _RoomAt, y: float, step: float
) -> Iterator[list[_Word]]:
    """Words in lines, each as long as the room at its height; _Full for a word too long."""
    line: list[_Word] = []
    end = 0.0
    for word in words:
        width = width_mm(word.text, word.bold, size)
        space = width_mm(" ", line[-1].bold, size) if line else 0.0
        if end + space + width <= room_at(y):
            line.append(word)
            end += space + width
            continue
        if not line or width > room_at(y + step):
            raise _Full
        yield line
        line, end, y = [word], width, y + step
    if line:
        yield line


def _runs(words: Sequence[_Word]) -> Iterator[_Word]:
    """Neighbours in the same face, joined."""
    joined: list[str] = []
    for number, word in enumerate(words):
        joined.append(word.text)
        if number + 1 == len(words) or words[number + 1].bold != word.bold:
            yield _Word(" ".join(joined), word.bold)
            joined = []


def _paragraphs(text: LabelText, size: float, words: Words) -> Iterator[tuple[float, list[_Word]]]:
    """Size and words of each paragraph."""
    if words != "back":
        yield (
            size * _KEEP_BY_LARGER[words],
            _bold(f"{text.dated.capitalize()} {day_words(text.keep_by)}"),
        )
        if text.strength:
            yield size, _bold(text.strength)
    for told in _body(text, words):
        if told:
            yield size, told


_KEEP_BY_LARGER: dict[Words, float] = {"all": 1.3, "brief": 1.15, "front": 1.3}


def _body(text: LabelText, words: Words) -> tuple[list[_Word], ...]:
    made = _plain(f"Made {day_words(text.made)} · Lot {text.lot}")
    stuff = _led("Ingredients:", f"{', '.join(text.ingredients)}. {text.recipe}".rstrip())
    allergens = _led("Allergens:", text.allergens)
    store, mix = _led("Storage:", text.storage), _led("To drink:", text.serving)
    caution, brief = _caution(text.caution), _caution(text.caution_brief)
    match words:
        case "all":
            return made, stuff, allergens, store, mix, caution
        case "brief":
            return made, [*stuff, *allergens], [*_plain(text.storage_brief), *mix, *brief]
        case "front":
            return made, store, mix
        case "back":
            return stuff, allergens, brief


def _caution(text: str) -> list[_Word]:
    """Its first sentence bold."""
    first, _, rest = text.partition(". ")
    return _led(f"{first}.", rest)


def _led(lead: str, text: str) -> list[_Word]:
    """A text after bold words that stay together; nothing where there is no text."""
    return [_Word(lead, True), *_plain(text)] if text else []


def _bold(text: str) -> list[_Word]:
    return [_Word(word, True) for word in text.split()]


def _plain(text: str) -> list[_Word]:
    """Words that a line may end after; a figure keeps its unit."""
    bound = re.sub(r"(?<=\d) (?=[a-z°])", "\u00a0", text)
    return [_Word(word.replace("\u00a0", " ")) for word in bound.split(" ") if word]
