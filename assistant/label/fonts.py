"""The letters of a label: Bitstream Vera, which the PDF library brings along and embeds."""

from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from assistant.base.errors import WrongUse

MM_PER_PT = 25.4 / 72
ASCENT, DESCENT = 0.76, 0.24
"""How far letters reach above and below the line, as shares of the size; read from the font."""
_FILES = {False: "Vera", True: "VeraBd"}


def font(bold: bool) -> str:
    """The name under which the PDF library knows the face."""
    return str(_face(bold).fontName)


def width_mm(text: str, bold: bool, size_pt: float) -> float:
    """Width of a text in one line [mm]; WrongUse for a letter the face does not have.

    >>> round(width_mm("Keep by", True, 10), 1)
    16.1
    """
    return _width_at_1_pt(text, bold) * size_pt


@cache
def _width_at_1_pt(text: str, bold: bool) -> float:
    face = _face(bold)
    missing = sorted({c for c in text if ord(c) not in face.face.charToGlyph})
    if missing:
        raise WrongUse(f"A label can't show {' '.join(map(repr, missing))} in {text!r}.")
    return float(face.stringWidth(text, 1.0)) * MM_PER_PT


@cache
def _face(bold: bool) -> TTFont:
    face = TTFont(_FILES[bold], f"{_FILES[bold]}.ttf")
    pdfmetrics.registerFont(face)
    return face
