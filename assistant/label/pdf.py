"""Labels as a PDF: the same one over and over, on as many pages as it takes."""

from dataclasses import dataclass
from io import BytesIO
from itertools import cycle, groupby

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from assistant.base.errors import WrongUse
from assistant.label.code import Modules, modules
from assistant.label.content import LabelText
from assistant.label.fonts import font
from assistant.label.layout import Laid, lay_out
from assistant.label.sheet import SHEETS, Place, Sheet, sheet_named

MOST_COPIES = 1000


@dataclass(frozen=True)
class Labels:
    """A PDF, its pages, and how the label of a bottle came out: one, or a front and a back."""

    pdf: bytes
    pages: int
    laid: tuple[Laid, ...]


def draw_labels(text: LabelText, sheet_name: str, copies: int, start: int = 1) -> Labels:
    """Labels for so many bottles on sheets of that name. Equal input, equal bytes.

    start : the first label to print on, counted by rows from 1, where a sheet was begun before
    WrongUse for an unknown sheet, a start that it does not have, copies outside 1 to 1000, or a
    text too long for the label.
    """
    sheet = sheet_named(sheet_name)
    if not 1 <= copies <= MOST_COPIES:
        raise WrongUse(f"Labels for {copies} bottles can't be made: 1 to {MOST_COPIES} at a time.")
    code = modules(text.code)
    laid = _laid(text, sheet_name, code)
    places = list(sheet.places(copies * len(laid), start))
    return Labels(_drawn(text, sheet, laid, code, places), places[-1].page + 1, laid)


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


def _drawn(
    text: LabelText, sheet: Sheet, laid: tuple[Laid, ...], code: Modules, places: list[Place]
) -> bytes:
    page_width, page_height = sheet.page
    out = BytesIO()
    canvas = Canvas(out, pagesize=(page_width * mm, page_height * mm), invariant=1, lang="en-GB")
    canvas.setTitle(f"{text.name}, lot {text.lot}")
    canvas.setAuthor("")
    canvas.setCreator("panside")
    lying = zip(places, cycle(laid), strict=False)
    for _, on_page in groupby(lying, key=lambda one: one[0].page):
        for place, label in on_page:
            canvas.saveState()
            canvas.translate(
                (place.x + sheet.room.x) * mm, (page_height - place.y - sheet.room.y) * mm
            )
            _draw_one(canvas, label, code, sheet.room.width)
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
