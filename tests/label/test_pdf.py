"""The PDF as others read it: its words, its ink and its codes."""

from io import BytesIO

import pypdf
import pypdfium2 as pdfium
import pytest
import zxingcpp
from label_maker import a_text

from assistant.base.errors import WrongUse
from assistant.label.layout import LEAST_X_MM
from assistant.label.pdf import draw_labels
from assistant.label.sheet import SHEETS

TEXT = a_text()
DPI = 200


def _picture(pdf: bytes, page: int = 0):  # type: ignore[no-untyped-def]
    return pdfium.PdfDocument(pdf)[page].render(scale=DPI / 72).to_pil().convert("L")


def test_the_words_can_be_read_again() -> None:
    pdf = draw_labels(TEXT, "a4-8", 1).pdf
    reader = pypdf.PdfReader(BytesIO(pdf))
    (page,) = reader.pages
    told = " ".join(page.extract_text().split())
    for fact in (
        "Blackcurrant syrup",
        "500 ml",
        "Best before 29 July 2026",
        "Made 11 July 2026 · Lot 2026-07-11-1",
        "sugar, blackcurrant, water, acid: citric acid.",
        "Ask the maker.",
        TEXT.storage,
        TEXT.serving,
        "Throw it away, untasted",
    ):
        assert fact in told
    assert reader.metadata
    assert reader.metadata.title == "Blackcurrant syrup, lot 2026-07-11-1"


def test_accents_degrees_and_dashes_come_through() -> None:
    pdf = draw_labels(a_text(name="Crème brûlée – 4 °C", lot="é"), "a4-8", 1).pdf
    assert "Crème brûlée – 4 °C" in pypdf.PdfReader(BytesIO(pdf)).pages[0].extract_text()


def test_the_faces_travel_inside() -> None:
    page = pypdf.PdfReader(BytesIO(draw_labels(TEXT, "a4-8", 1).pdf)).pages[0]
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    drawn = [font for font in fonts if "Vera" in font["/BaseFont"]]
    assert len(drawn) == 2
    assert all("/FontFile2" in font["/FontDescriptor"] for font in drawn)


@pytest.mark.parametrize("name", SHEETS)
def test_every_code_on_the_sheet_is_read_by_another_reader(name: str) -> None:
    sheet = SHEETS[name]
    labels = draw_labels(TEXT, name, sheet.count // 2)
    found = zxingcpp.read_barcodes(_picture(labels.pdf), formats=zxingcpp.BarcodeFormat.QRCode)
    assert len(found) == sheet.count // 2 * len(labels.laid)
    assert {code.text for code in found} == {TEXT.code}


@pytest.mark.parametrize("name", SHEETS)
def test_there_is_ink_on_every_label_and_none_beside(name: str) -> None:
    sheet, px = SHEETS[name], DPI / 25.4
    copies = sheet.count // 2
    labels = draw_labels(TEXT, name, copies)
    picture = _picture(labels.pdf)
    for place in sheet.places(copies * len(labels.laid)):
        x, y = place.x + sheet.room.x, place.y + sheet.room.y
        box = (x, y, x + sheet.room.width, y + sheet.room.height)
        inside = tuple(round(edge * px) for edge in box)
        assert picture.crop(inside).getextrema()[0] < 50
        left, top, right, bottom = inside
        picture.paste(255, (left - 2, top - 2, right + 2, bottom + 2))
    assert picture.getextrema() == (255, 255)


@pytest.mark.parametrize(("copies", "pages"), [(1, 1), (8, 1), (9, 2), (17, 3)])
def test_as_many_pages_as_it_takes(copies: int, pages: int) -> None:
    labels = draw_labels(TEXT, "a4-8", copies)
    assert labels.pages == len(pypdf.PdfReader(BytesIO(labels.pdf)).pages) == pages


def test_the_smallest_letters_are_as_high_as_the_rule_wants() -> None:
    """Regulation (EU) No 1169/2011, Art. 13(2): a small x of 1.2 mm, measured on the page."""
    labels = draw_labels(a_text(allergens="xxx " * 40), "letter-10", 1)
    assert min(piece.size_pt for piece in labels.laid[0].pieces) <= 8
    words = pdfium.PdfDocument(labels.pdf)[0].get_textpage()
    at = words.get_text_range().index("xxx")
    _, bottom, _, top = words.get_charbox(at)
    assert (top - bottom) * 25.4 / 72 >= LEAST_X_MM


def test_equal_labels_are_equal_to_the_byte() -> None:
    assert draw_labels(TEXT, "a4-21", 3).pdf == draw_labels(TEXT, "a4-21", 3).pdf


def test_what_does_not_fit_names_the_sheets_that_do() -> None:
    text = a_text(ingredients=tuple(f"ingredient number {n}" for n in range(14)))
    with pytest.raises(WrongUse, match=r"letter-30: .* It fits on: .*letter-6"):
        draw_labels(text, "letter-30", 1)
    with pytest.raises(WrongUse, match="No sheet"):
        draw_labels(a_text(name="x" * 300), "a4-8", 1)


@pytest.mark.parametrize("copies", [0, -3, 1001])
def test_odd_numbers_of_copies_are_refused(copies: int) -> None:
    with pytest.raises(WrongUse, match="1 to 1000"):
        draw_labels(TEXT, "a4-8", copies)


def test_labels_used_before_stay_white() -> None:
    sheet = SHEETS["a4-8"]
    picture = _picture(draw_labels(TEXT, "a4-8", 1, start=4).pdf)
    inked = [_ink(picture, place, sheet) for place in sheet.places(sheet.count)]
    assert [ink > 0 for ink in inked] == [number == 3 for number in range(sheet.count)]


def _ink(picture, place, sheet) -> int:  # type: ignore[no-untyped-def]
    """Dark dots on one label."""
    box = (place.x, place.y, place.x + sheet.width, place.y + sheet.height)
    label = picture.crop(tuple(round(side / 25.4 * DPI) for side in box))
    return sum(label.histogram()[:128])
