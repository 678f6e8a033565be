"""Every "may I" has an answer of its own, and none that says yes to what must not be."""

from random import Random

import pytest
from batch_maker import START, Maker

from assistant.cook import begin, step
from assistant.facts.events import Ask, Begin
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.say import shown, spoken
from assistant.understand.parsing import parser
from assistant.understand.sayable import sentences


def ids(maker: Maker, about: str) -> list[str]:
    return [line.id for line in maker.does("ask", topic="may_i", about=about).lines]


@pytest.mark.parametrize(
    ("about", "first"),
    [
        ("frozen_fruit", "may_frozen"),
        ("less_sugar", "may_less_sugar"),
        ("more_sugar", "may_more_sugar"),
        ("without_sugar", "may_no_sugar"),
        ("without_sorbate", "may_no_sorbate"),
        ("more_sorbate", "may_no_more_sorbate"),
        ("less_citric_acid", "may_less_acid"),
        ("with_ascorbic_acid", "may_more_acid"),
        ("with_water", "may_water"),
        ("with_glycerin", "may_glycerin"),
        ("honey", "may_honey"),
        ("lemon_juice", "may_lemon"),
        ("skip_hold", "may_skip_hold"),
        ("skip", "may_skip"),
        ("boil", "may_boil"),
        ("keep_fridge", "keep_so_far"),
        ("keep_shelf", "keep_refused"),
        ("reuse_bottles", "may_reuse"),
        ("plastic_bottles", "may_plastic"),
        ("double", "may_double_begun"),
    ],
)
def test_each_deed_has_its_answer(maker: Maker, about: str, first: str) -> None:
    maker.up_to("heat")
    before = maker.batch.taken, maker.batch.added, maker.stage
    assert ids(maker, about)[0] == first
    assert (maker.batch.taken, maker.batch.added, maker.stage) == before


def test_the_ceiling_told_is_the_dose_of_the_recipe(maker: Maker) -> None:
    maker.up_to("ask_sorbate")
    (line,) = maker.does("ask", topic="may_i", about="more_sorbate").lines
    planned = maker.does("ask", topic="how_much", about="sorbate").lines[0].facts["amount"]
    assert line.facts["amount"].value == planned.value  # type: ignore[union-attr]


def test_without_the_hold_it_keeps_no_longer_than_unheated(maker: Maker) -> None:
    maker.up_to("sharpen")
    line = maker.does("ask", topic="may_i", about="skip_hold").lines[0]
    assert line.facts["days"].value < 28  # type: ignore[union-attr]  # 28 with it, by the keeping rule


def test_what_went_in_is_told_latest_first(maker: Maker) -> None:
    assert maker.does("ask", topic="how_much", about="so_far").lines[0].id == "nothing_went_in"
    maker.up_to("crush")
    assert maker.does("ask", topic="how_much", about="so_far").lines[0].id == "nothing_went_in"
    maker.done()
    maker.done()
    told = shown(maker.does("ask", topic="how_much", about="so_far"))
    assert told == ["960 ml went in, water.", "600 g went in, the first sugar."]


def test_who_says_so_names_the_limit_that_holds_it(maker: Maker) -> None:
    maker.up_to("ph")
    maker.reads("ph", 5.0, "pH")
    told = shown(maker.does("ask", topic="limit", about="source"))
    assert "21 CFR 114" in told[0]


DEEDS = sorted({sentences("deed", Random(n)) for n in range(400)})


@pytest.mark.parametrize("name", recipe_names())
def test_every_deed_of_the_grammar_is_answered_in_every_recipe(name: str) -> None:
    recipe = load_recipe(name).model_dump(mode="json")
    batch, _ = begin(Begin(at=START, batch="b", recipe=recipe))
    for deed in DEEDS:
        for values in parser().values(tuple(deed.split()), "deed"):
            _, reply = step(batch, Ask(at=START, topic="may_i", about=str(values[0])))
            assert shown(reply), (name, deed)
            assert " safe" not in spoken(reply)
