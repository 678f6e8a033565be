"""Labels for several sizes on a sheet, each with its own volume and as many as were filled."""

from datetime import date
from functools import cache
from io import BytesIO

import pypdf
import pytest
from batch_maker import Maker

from assistant.base.errors import WrongUse
from assistant.cook import Batch
from assistant.label.content import label_texts, of_size
from assistant.label.pdf import draw_all, draw_labels
from assistant.label.sheet import SHEETS

TODAY = date(2026, 7, 12)


@cache
def mixed() -> Batch:
    """Five half litres, two jars of 330 and a part bottle with 250 ml in it."""
    maker = Maker().up_to("bottle")
    jars, part = {"size_ml": 330, "of": "jar"}, {"size_ml": 500, "holds_ml": 250}
    maker.surely("bottle", count=5, size_ml=500, more=[{"count": 2, **jars}, {"count": 1, **part}])
    return maker.batch


def told(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(pdf)).pages)


def test_each_size_has_its_volume_and_its_number() -> None:
    texts = label_texts(mixed(), TODAY)
    assert [(text.volume, count) for text, count in texts] == [
        ("500 ml", 5),
        ("330 ml", 2),
        ("250 ml", 1),
    ]
    assert len({(text.name, text.keep_by, text.lot) for text, _ in texts}) == 1
    words = told(draw_all(texts, "a4-8").pdf)
    assert [words.count(volume) for volume in ("500 ml", "330 ml", "250 ml")] == [5, 2, 1]


def test_they_fill_a_sheet_one_after_another() -> None:
    labels = draw_all(label_texts(mixed(), TODAY), "a4-8", start=8)
    assert labels.pages == 2
    assert [one.text.volume for one in labels.lying] == ["500 ml"] * 5 + ["330 ml"] * 2 + ["250 ml"]
    assert [one.place.page for one in labels.lying] == [0] + [1] * 7
    assert [n for n, one in enumerate(labels.lying) if one.first] == [0, 5, 7]


def test_a_front_and_a_back_stay_together() -> None:
    labels = draw_all(label_texts(mixed(), TODAY), "letter-30")
    assert len(labels.laid) == 2
    assert [one.laid.words for one in labels.lying] == ["front", "back"] * 8
    assert [one.text.volume for one in labels.lying[::2]] == [
        *["500 ml"] * 5,
        *["330 ml"] * 2,
        "250 ml",
    ]


def test_one_size_alone_is_what_it_was_before() -> None:
    ((text, count),) = of_size(label_texts(mixed(), TODAY), 330)
    assert count == 2
    assert draw_all([(text, 2)], "a4-21").pdf == draw_labels(text, "a4-21", 2).pdf


@pytest.mark.parametrize("counts", [(0, 5), (-1, 5), (600, 600)])
def test_odd_numbers_are_refused(counts: tuple[int, int]) -> None:
    (one, _), (other, _), _ = label_texts(mixed(), TODAY)
    with pytest.raises(WrongUse, match="1 to 1000"):
        draw_all(list(zip((one, other), counts, strict=True)), "a4-8")


@pytest.mark.parametrize("name", SHEETS)
def test_every_sheet_takes_them(name: str) -> None:
    labels = draw_all(label_texts(mixed(), TODAY), name)
    assert len(labels.lying) == 8 * len(labels.laid)


def test_jars_and_bottles_of_one_volume_share_a_label() -> None:
    maker = Maker().up_to("bottle")
    more = [{"count": 4, "size_ml": 330, "of": "jar"}, {"count": 1, "size_ml": 250}]
    maker.surely("bottle", count=7, size_ml=330, more=more)
    assert [(text.volume, count) for text, count in label_texts(maker.batch, TODAY)] == [
        ("330 ml", 11),
        ("250 ml", 1),
    ]
