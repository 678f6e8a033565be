"""Answers about this batch tell what was done, what its recipe wants and what is not known."""

import pytest
from batch_maker import Maker

from assistant.say import shown, spoken


def asks(maker: Maker, topic: str, about: str | None = None) -> str:
    return " ".join(shown(maker.does("ask", topic=topic, about=about)))


def test_what_went_in_is_not_the_plan(maker: Maker) -> None:
    maker.up_to("crush")
    assert asks(maker, "how_much", "sugar_so_far") == "No sugar has gone in yet."
    maker.done()
    assert "600 g went in" in asks(maker, "how_much", "sugar_so_far")
    assert "main" not in asks(maker, "how_much", "sugar_so_far")


@pytest.mark.parametrize(
    ("stage", "words"), [("weigh", "75"), ("heat", "75"), ("hold", "75"), ("cool", "45")]
)
def test_how_hot_is_the_recipes_target(maker: Maker, stage: str, words: str) -> None:
    said = asks(maker.up_to(stage), "limit", "hot")
    assert f"{words} °C" in said
    assert "warn" not in said


def test_fit_to_drink_tells_this_batchs_ph_and_hold_and_what_is_unknown(maker: Maker) -> None:
    maker.up_to("heat")
    assert "neither the pH nor the hold" in asks(maker, "limit", "safe")
    maker = Maker().up_to("bottle")
    told = asks(maker, "limit", "safe")
    assert "3.4" in told
    assert "no promise" in told
    assert "safe" not in spoken(maker.reply)


def test_how_many_bottles_after_filling_is_the_count(maker: Maker) -> None:
    maker.up_to("bottle")
    assert "10 bottles of 500 ml, the last one not full" in asks(maker, "bottles")
    maker.does("bottle", count=9, size_ml=500)
    assert asks(maker, "bottles").startswith("9 bottles of 500 ml filled")


def test_in_a_ph_stop_the_dose_is_the_one_that_was_said(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 4.9, "pH")
    first = maker.reply.lines[-1]
    maker.does("ask", topic="how_much", about="citric_acid")
    assert maker.reply.lines[0] == first
    portion = first.facts["first"].value  # type: ignore[union-attr]
    maker.reads("citric_acid", round(portion / 2, 1), "g")
    maker.does("ask", topic="how_much", about="citric_acid")
    left = maker.reply.lines[0].facts["first"].value  # type: ignore[union-attr]
    assert left == pytest.approx(portion / 2, abs=0.1)
    maker.reads("citric_acid", round(portion / 2, 1) + 0.1, "g")
    maker.does("ask", topic="how_much", about="citric_acid")
    assert maker.ids() == ["acid_portion_in"]


def test_acid_that_is_in_is_taken_off_every_later_dose(maker: Maker) -> None:
    maker.up_to("dissolve")
    maker.reads("citric_acid", 5, "g")
    maker.done()
    # 4 g to a litre of juice by the recipe, 2.9 l, 5 g in: 6.6 g
    assert "6.6 g" in " ".join(shown(maker.reply))
    maker.done()
    assert maker.batch.total("citric_acid") == pytest.approx(11.6)


def test_where_enough_acid_is_in_none_is_asked_for(maker: Maker) -> None:
    maker.up_to("dissolve")
    maker.reads("citric_acid", 12, "g")
    maker.done()
    assert maker.ids()[-1] == "acid_enough"
    maker.done()
    assert maker.batch.total("citric_acid") == 12
