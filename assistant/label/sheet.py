"""Sheets of sticky labels: how many of what size, and where each one lies.

Sizes as sheets are sold, named by page and count (common practice, no source); all stand centred
on their page, so the margins follow.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.base.errors import WrongUse

A4 = (210.0, 297.0)
"""ISO 216. [mm]"""
LETTER = (215.9, 279.4)
"""8 1/2 by 11 inches. [mm]"""
UNPRINTED = 4.3
"""What a printer may leave white along the edge of the page; common practice, no source. [mm]"""
PAD = 2.0
"""White inside a label's edge, for a sheet that was drawn in a little askew. [mm]"""


@dataclass(frozen=True)
class Place:
    """Where a label lies: the page, counted from 0, and its top left corner there. [mm]"""

    page: int
    x: float
    y: float


@dataclass(frozen=True)
class Room:
    """What may be printed on of a label: its offset in the label and its size. [mm]"""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class Sheet:
    """Labels of one size in rows and columns, centred on a page. [mm]

    ValueError for labels that do not fit their page.
    """

    page: tuple[float, float]
    columns: int
    rows: int
    width: float
    height: float
    gap_x: float = 0.0
    gap_y: float = 0.0

    def __post_init__(self) -> None:
        if min(self.left, self.top) < -1e-9 or min(self.gap_x, self.gap_y) < 0:
            raise ValueError("the labels do not fit their page")

    @property
    def count(self) -> int:
        """Labels on a page."""
        return self.columns * self.rows

    @property
    def left(self) -> float:
        """White to the left of the first column. [mm]"""
        return (self.page[0] - self.columns * (self.width + self.gap_x) + self.gap_x) / 2

    @property
    def top(self) -> float:
        """White above the first row. [mm]"""
        return (self.page[1] - self.rows * (self.height + self.gap_y) + self.gap_y) / 2

    @property
    def room(self) -> Room:
        """The printable part that every label of the sheet has, those at the edge too."""
        x, y = (max(PAD, UNPRINTED - margin) for margin in (self.left, self.top))
        return Room(x, y, self.width - 2 * x, self.height - 2 * y)

    def places(self, copies: int, start: int = 1) -> Iterator[Place]:
        """Where so many labels lie: row by row, page after page.

        start : the first one to use, from 1; WrongUse for one that the page does not have
        """
        if not 1 <= start <= self.count:
            raise WrongUse(f"The sheet has labels 1 to {self.count}; there is no label {start}.")
        for number in range(start - 1, start - 1 + copies):
            page, on_page = divmod(number, self.count)
            row, column = divmod(on_page, self.columns)
            x = self.left + column * (self.width + self.gap_x)
            y = self.top + row * (self.height + self.gap_y)
            yield Place(page, x, y)


SHEETS = {
    "a4-8": Sheet(A4, 2, 4, 99.1, 67.7, gap_x=2.5),
    "a4-12": Sheet(A4, 3, 4, 63.5, 72.0, gap_x=2.5),
    "a4-14": Sheet(A4, 2, 7, 99.1, 38.1, gap_x=2.5),
    "a4-21": Sheet(A4, 3, 7, 63.5, 38.1, gap_x=2.5),
    "a4-24": Sheet(A4, 3, 8, 70.0, 37.0),
    "letter-6": Sheet(LETTER, 2, 3, 101.6, 84.6, gap_x=4.8),
    "letter-10": Sheet(LETTER, 2, 5, 101.6, 50.8, gap_x=4.8),
    "letter-14": Sheet(LETTER, 2, 7, 101.6, 33.8, gap_x=4.8),
    "letter-30": Sheet(LETTER, 3, 10, 66.7, 25.4, gap_x=3.2),
}
DEFAULT = "a4-8"


def sheet_named(name: str) -> Sheet:
    """The sheet of that name; WrongUse that lists them for another."""
    if name not in SHEETS:
        listed = "; ".join(f"{key} {s.width:g} × {s.height:g} mm" for key, s in SHEETS.items())
        raise WrongUse(f"There is no sheet {name!r}. There are: {listed}.")
    return SHEETS[name]
