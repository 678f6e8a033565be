"""Labels as pictures: whole sheets, or one label as it will lie on its sheet, as PNG.

The pages of the PDF are rendered, so that a picture shows what will be printed, faces and all.
"""

from io import BytesIO
from typing import Any

from assistant.base.errors import PicturesMissing
from assistant.label.content import LabelText
from assistant.label.pdf import draw_labels
from assistant.label.sheet import sheet_named

DPI = 150
"""Dots to the inch of a picture of a label: a telephone reads its code from the screen."""
SHEET_DPI = 100
_MM_PER_INCH = 25.4


def pages_png(pdf: bytes, dpi: int = SHEET_DPI) -> tuple[bytes, ...]:
    """Each page of a PDF as PNG; PicturesMissing without the renderer.

    dpi : dots to the inch
    """
    return tuple(_png(_rendered(page, dpi)) for page in _document(pdf))


def label_png(text: LabelText, sheet_name: str, dpi: int = DPI) -> bytes:
    """One label as PNG, as it will be printed on that sheet; a back stands under its front.

    dpi : dots to the inch
    WrongUse as for the PDF, PicturesMissing without the renderer.
    """
    sheet = sheet_named(sheet_name)
    labels = draw_labels(text, sheet_name, 1)
    pages = [_rendered(page, dpi) for page in _document(labels.pdf)]
    px = dpi / _MM_PER_INCH
    sides = []
    for lying in labels.lying:
        x, y = lying.place.x, lying.place.y
        edges = (x, y, x + sheet.width, y + sheet.height)
        sides.append(pages[lying.place.page].crop(tuple(round(edge * px) for edge in edges)))
    return _png(_stacked(sides))


def _stacked(sides: list[Any]) -> Any:
    """Pictures one under the other."""
    whole = sides[0].copy().resize((sides[0].width, sum(side.height for side in sides)))
    top = 0
    for side in sides:
        whole.paste(side, (0, top))
        top += side.height
    return whole


def _document(pdf: bytes) -> Any:
    try:
        import pypdfium2
    except ImportError as error:
        raise PicturesMissing(
            "Pictures need one package more: pip install 'panside[pictures]'. The PDF needs none."
        ) from error
    return pypdfium2.PdfDocument(pdf)


def _rendered(page: Any, dpi: int) -> Any:
    return page.render(scale=dpi / 72).to_pil().convert("L")


def _png(picture: Any) -> bytes:
    out = BytesIO()
    picture.save(out, "PNG", optimize=True)
    return out.getvalue()
