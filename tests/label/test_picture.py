"""Labels as pictures, looked at as a telephone would: the code is read, the sizes are true."""

import sys
from io import BytesIO

import pytest
import zxingcpp
from label_maker import TODAY, a_text, bottled
from PIL import Image

from assistant.base.errors import PicturesMissing, WrongUse
from assistant.label.content import label_texts, of_size
from assistant.label.pdf import draw_labels
from assistant.label.picture import DPI, SHEET_DPI, label_png, pages_png
from assistant.label.sheet import SHEETS


def opened(png: bytes) -> Image.Image:
    return Image.open(BytesIO(png))


@pytest.mark.parametrize("name", SHEETS)
def test_one_label_is_as_large_as_on_its_sheet_and_its_code_is_read(name: str) -> None:
    text = a_text()
    picture = opened(label_png(text, name))
    sides = len(draw_labels(text, name, 1).laid)
    wide, high = (edge * DPI / 25.4 for edge in (SHEETS[name].width, SHEETS[name].height))
    assert picture.width == pytest.approx(wide, abs=1.5)
    assert picture.height == pytest.approx(sides * high, abs=1.5 * sides)
    found = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
    assert [code.text for code in found] == [text.code] * sides


def test_there_is_ink_all_over_and_none_at_the_edge() -> None:
    picture = opened(label_png(a_text(), "a4-8"))
    assert picture.getextrema()[0] < 50
    edge = picture.crop((0, 0, picture.width, 8))
    assert edge.getextrema() == (255, 255)


def test_a_sheet_is_a_picture_a_page() -> None:
    pages = pages_png(draw_labels(a_text(), "a4-8", 9).pdf)
    assert len(pages) == 2
    assert opened(pages[0]).width == pytest.approx(210 * SHEET_DPI / 25.4, abs=1.5)


def test_without_the_renderer_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pypdfium2", None)
    with pytest.raises(PicturesMissing, match=r"pip install 'panside\[pictures\]'"):
        label_png(a_text(), "a4-8")


def test_no_sheet_no_picture() -> None:
    with pytest.raises(WrongUse, match="no sheet"):
        label_png(a_text(), "a3-1")


def test_equal_volumes_are_one_label() -> None:
    assert [(text.volume, count) for text, count in label_texts(bottled(), TODAY)] == [
        ("500 ml", 9)
    ]
    with pytest.raises(WrongUse, match="There are labels for: 500 ml"):
        of_size(label_texts(bottled(), TODAY), 330)
