"""Labels as a PDF: those of each sort of bottle, on as many pages as it takes."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import groupby

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from assistant.base.errors import WrongUse
from assistant.label.code import Modules, modules
from assistant.label.content import LabelText
from assistant.label.fonts import font
from assistant.label.layout import Laid, lay_out
from assistant.label.sheet import SHEETS, Place, Sheet, sheet_named

MOST_COPIES = 1000


Wanted = Sequence[tuple[LabelText, int]]
"""Labels and for how many bottles each."""


@dataclass(frozen=True)
class Lying:
    """One label on its place; `first` where it is the first for its text."""

    place: Place
    laid: Laid
    text: LabelText
    first: bool


@dataclass(frozen=True)
class Labels:
    """A PDF, its pages, and how the label of a bottle came out: one, or a front and a back.

    laid : of the first text; lying : every label on its place, in order
    """

    pdf: bytes
    pages: int
    laid: tuple[Laid, ...]
    lying: tuple[Lying, ...]


def draw_labels(text: LabelText, sheet_name: str, copies: int, start: int = 1) -> Labels:
    """Labels for so many bottles of one sort; else as `draw_all`."""
    return draw_all(((text, copies),), sheet_name, start)


def draw_all(wanted: Wanted, sheet_name: str, start: int = 1) -> Labels:
    """Labels for all these bottles, one sort after another. Equal input, equal bytes.

    wanted : each text with for how many bottles; all of one batch
    start : the first label to print on, counted by rows from 1, where a sheet was begun before
    WrongUse for an unknown sheet, a start that it does not have, copies outside 1 to 1000, or a
    text too long for the label.
    """
    sheet, copies = sheet_named(sheet_name), sum(count for _, count in wanted)
    if not 1 <= copies <= MOST_COPIES or any(count < 1 for _, count in wanted):
        raise WrongUse(f"Labels for {copies} bottles can't be made: 1 to {MOST_COPIES} at a time.")
    first = wanted[0][0]
    code = modules(first.code)
    laid = [(_laid(text, sheet_name, code), text, count) for text, count in wanted]
    all_ = [
        (one, text, n == 0) for sides, text, count in laid for n in range(count) for one in sides
    ]
    places = sheet.places(len(all_), start)
    lying = tuple(Lying(place, *one) for place, one in zip(places, all_, strict=True))
    pdf = _drawn(first, sheet, code, lying)
    return Labels(pdf, lying[-1].place.page + 1, laid[0][0], lying)


def _laid(text: LabelText, sheet_name: str, code: Modules) -> tuple[Laid, ...]:
    room = SHEETS[sheet_name].room
    try:
        return lay_out(text, room.width, room.height, len(code))
    except WrongUse as error:
        larger = ", ".join(name for name in SHEETS if _fits(text, SHEETS[name], len(code)))
        hint = f"It fits on: {larger}." if larger else "No sheet here is large enough."
        raise WrongUse(f"{sheet_name}: {error} {hint}") from error


def _fits(text: LabelText, sheet: Sheet, code_side: int) -> bool:
    try:
        lay_out(text, sheet.room.width, sheet.room.height, code_side)
    except WrongUse:
        return False
    return True


def _drawn(text: LabelText, sheet: Sheet, code: Modules, lying: Sequence[Lying]) -> bytes:
    page_width, page_height = sheet.page
    out = BytesIO()
    canvas = Canvas(out, pagesize=(page_width * mm, page_height * mm), invariant=1, lang="en-GB")
    canvas.setTitle(f"{text.name}, lot {text.lot}")
    canvas.setAuthor("")
    canvas.setCreator("panside")
    for _, on_page in groupby(lying, key=lambda one: one.place.page):
        for one in on_page:
            canvas.saveState()
            canvas.translate(
                (one.place.x + sheet.room.x) * mm, (page_height - one.place.y - sheet.room.y) * mm
            )
            _draw_one(canvas, one.laid, code, sheet.room.width)
            canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw_one(canvas: Canvas, laid: Laid, code: Modules, width: float) -> None:
    """One label from its room's top left corner; the page's y runs upwards."""
    for piece in laid.pieces:
        canvas.setFont(font(piece.bold), piece.size_pt)
        canvas.drawString(piece.x * mm, -piece.y * mm, piece.text)
    canvas.setLineWidth(0.25 * mm)
    canvas.line(0, -laid.rule_y * mm, width * mm, -laid.rule_y * mm)
    path = canvas.beginPath()
    side = laid.module_mm * mm
    for y, row in enumerate(code):
        x = 0
        for dark, run in groupby(row):
            length = len(list(run))
            if dark:
                left, top = laid.code_x * mm + x * side, -laid.code_y * mm - y * side
                path.rect(left, top - side, length * side, side)
            x += length
    canvas.drawPath(path, stroke=0, fill=1)
