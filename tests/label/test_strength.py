"""Alcohol, and what is too sour to be drunk as it is."""

from dataclasses import replace

import pytest
from batch_maker import Maker
from label_maker import TODAY, a_text, bottled

from assistant.label.content import label_text
from assistant.label.layout import lay_out
from assistant.label.strength import acid_g_l, alcohol_words, sour_words


def _solution(name: str, ph: float) -> Maker:
    maker = Maker(name)
    maker.reads("water", 1000, "ml")
    while maker.stage != "ph":
        maker.done()
    maker.reads("ph", ph, "pH")
    return maker


@pytest.mark.parametrize(
    ("name", "ph", "least", "most"),
    [
        # by mass balance: 200 g of citric acid in 998 g of water, 1.08 g/ml at 16.7 %
        # (CRC Handbook, concentrative properties of citric acid): about 180 g/l
        ("citric-solution", 1.9, 175, 185),
        # 125 g of 80 per cent in 998 g of water, near 1.02 g/ml: about 91 g/l
        ("lactic-solution", 2.0, 87, 95),
        ("phosphoric-solution", 1.5, 16, 18),  # 20 g of 85 per cent in a litre
    ],
)
def test_an_acid_solution_tells_its_strength(
    name: str, ph: float, least: float, most: float
) -> None:
    batch = _solution(name, ph).batch
    assert least <= acid_g_l(batch) <= most
    assert "not to drink undiluted" in sour_words(batch)


def test_what_was_made_as_sour_as_lime_is_to_be_diluted() -> None:
    maker = Maker("sharpened-orange-juice")
    maker.does("choose", option="fruit", value="orange")
    maker.reads("juice", 1000, "ml")
    maker.done()
    maker.done()
    assert sour_words(maker.batch) == "Very sour: dilute before drinking."


def test_a_syrup_is_neither() -> None:
    batch = bottled()
    assert (alcohol_words(batch), sour_words(batch)) == ("", "")
    assert label_text(batch, TODAY).strength == ""


def test_alcohol_is_told_by_volume_as_it_was_poured() -> None:
    maker = Maker("spirit-fortified-syrup")
    maker.reads("water", 1000, "ml")
    for degrees in (76, 77, 77, 77):
        maker.degrees(degrees, 40)
    maker.done()
    maker.done()
    maker.degrees(22)
    maker.done()
    maker.reads("ph", 3.0, "pH")
    maker.does("bottle", count=9, size_ml=500)
    if maker.batch.held:
        maker.does("yes")
    # 1.3 volumes of 40 per cent to one of syrup: 52 / 230 = 22.6 per cent
    assert alcohol_words(maker.batch) == "alcohol about 22.6 % vol"
    text = label_text(maker.batch, TODAY)
    assert text.strength == "Alcohol about 22.6 % vol."
    assert text.dated == "best before"
    assert text.allergens == "Of spirit not known. Ask the maker."


def test_strength_stands_on_every_label_and_front() -> None:
    text = a_text(strength="Acid, about 180 g a litre: not to drink undiluted.")
    for width, height in ((99.1, 67.7), (63.5, 46.6)):
        front = lay_out(text, width, height, 25)[0]
        words = " ".join(piece.text for piece in front.pieces)
        assert "not to drink undiluted" in words


def test_a_date_says_which_kind_it_is() -> None:
    batch = bottled()
    assert label_text(batch, TODAY).dated == "best before"
    unheated = replace(batch, taken=tuple(t for t in batch.taken if t.what != "temperature"))
    assert label_text(unheated, TODAY).dated == "use by"
