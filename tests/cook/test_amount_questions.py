"""Questions that name an amount: what if, convert, how strong a drink."""

import pytest
from batch_maker import START, Maker
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.units import UNITS
from assistant.cook import begin, step
from assistant.cook.converting import converted
from assistant.cook.reply import Quantity, Reply
from assistant.facts.events import Ask, Begin, Unit
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.say import shown


def ask(maker: Maker, topic: str, **fields: object) -> str:
    return " ".join(shown(maker.does("ask", topic=topic, **fields)))


def fact(reply: Reply, name: str) -> float:
    found = next(line.facts[name] for line in reply.lines if name in line.facts)
    assert isinstance(found, Quantity)
    return found.value


def test_so_much_fruit_takes_so_much(maker: Maker) -> None:
    told = ask(maker, "what_if", about="fruit", value=800, unit="g")
    assert "200 g of sugar" in told  # a quarter of the fruit, by the recipe
    assert "320 ml of water" in told  # two fifths of it
    assert "of syrup" in told


def test_another_weight_is_reckoned_beside_the_batch(maker: Maker) -> None:
    maker.up_to("water")
    before = maker.batch.taken, maker.batch.added, maker.stage
    told = ask(maker, "what_if", value=4, unit="kg")
    assert "4 kg of blackcurrant" in told
    assert "1 kg of sugar" in told  # a quarter of the fruit, by the recipe
    assert (maker.batch.taken, maker.batch.added, maker.stage) == before


def test_sugar_before_the_fruit_is_weighed_says_how_much_fruit(maker: Maker) -> None:
    maker.does("choose", option="fruit", value="blackcurrant")
    reply = maker.does("ask", topic="what_if", about="sugar", value=1, unit="kg")
    base = fact(reply, "base")
    whole = maker.up_to("crush").does("ask", topic="what_if", about="sugar", value=1, unit="kg")
    # 2.4 kg of fruit take what is needed; a kilo of sugar takes its share of them
    assert base == pytest.approx(2400 * 1000 / fact(whole, "need"), rel=0.02)


def test_too_little_sugar_tells_what_it_makes(maker: Maker) -> None:
    maker.up_to("dissolve")
    reply = maker.does("ask", topic="what_if", about="sugar", value=1, unit="kg")
    assert [line.id for line in reply.lines] == ["what_if_short", "what_if_thin"]
    assert 20 < fact(reply, "brix") < 62  # between the juice's and the recipe's target


def test_enough_is_enough(maker: Maker) -> None:
    maker.up_to("dissolve")
    reply = maker.does("ask", topic="what_if", about="sugar", value=5, unit="kg")
    assert [line.id for line in reply.lines] == ["what_if_enough"]


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ({}, "what_if_how"),
        ({"about": "fruit", "value": 1, "unit": "g"}, "what_if_never"),
        ({"about": "fruit", "value": 900, "unit": "kg"}, "what_if_never"),
        ({"about": "sugar", "value": 2, "unit": "l"}, "what_if_other_unit"),
        ({"about": "juice", "value": 2, "unit": "l"}, "not_in_recipe"),
        ({"about": "temperature", "value": 20, "unit": "degC"}, "not_in_recipe"),
    ],
)
def test_what_can_not_be_reckoned(maker: Maker, fields: dict[str, object], line: str) -> None:
    reply = maker.does("ask", topic="what_if", **fields)
    assert reply.lines[0].id == line


@pytest.mark.parametrize("name", recipe_names())
@settings(deadline=None, max_examples=40)
@given(
    about=st.sampled_from(["fruit", "sugar", "water", "citric_acid", "sorbate", None]),
    value=st.floats(1e-3, 1e5),
    unit=st.sampled_from(["g", "kg", "ml", "l", "lb", "cup", "degC", "pH"]),
)
def test_every_recipe_answers_or_says_why_not(
    name: str, about: str | None, value: float, unit: Unit
) -> None:
    recipe = load_recipe(name).model_dump(mode="json")
    batch, _ = begin(Begin(at=START, batch="b", recipe=recipe))
    event = Ask(at=START, topic="what_if", about=about, value=value, unit=unit)
    after, reply = step(batch, event)
    assert shown(reply)
    assert after.taken == ()


@pytest.mark.parametrize(
    ("value", "unit", "to", "about", "told"),
    [
        (2, "cup", "ml", None, "2 cups is 480 ml."),  # NIST, Cooking Measurement Equivalencies
        (1, "lb", "g", None, "1 lb is 454 g."),  # the pound is 453.59237 g by definition
        (212, "degF", "degC", None, "212 °F is 100 °C."),  # boiling water, by definition
        (1, "cup", "g", "sugar", "1 cup of sugar is 200 g (180–220)."),  # USDA SR26, weights
        (1, "cup", "g", "raspberry", "1 cup of raspberry is 123 g (104–142)."),  # USDA SR26
        (300, "g", "cup", "sugar", "300 g of sugar is 1½ cups"),  # USDA SR26, weights
        (1, "kg", "ml", None, "I can't turn one of these into the other; name what it is."),
        (1, "kg", "degC", "sugar", "I can't turn one of these into the other; name what it is."),
    ],
)
def test_amounts_are_converted(
    maker: Maker, value: float, unit: str, to: str, about: str | None, told: str
) -> None:
    said = ask(maker, "convert", value=value, unit=unit, to=to, about=about)
    assert said.startswith(told.rstrip("."))


def test_acids_are_to_be_weighed_all_the_same(maker: Maker) -> None:
    reply = maker.does("ask", topic="convert", value=1, unit="tsp", to="g", about="citric_acid")
    assert [line.id for line in reply.lines] == ["converted_by_weight", "weigh_it"]


@given(st.floats(1e-6, 1e6), st.sampled_from(UNITS), st.sampled_from(UNITS), st.text(max_size=9))
def test_any_conversion_is_answered(value: float, unit: Unit, to: Unit, about: str) -> None:
    event = Ask(at=START, topic="convert", value=value, unit=unit, to=to, about=about)
    assert shown(Reply(lines=converted(event)))


def test_a_drink_of_the_usual_strength(maker: Maker) -> None:
    maker.up_to("ph")
    reply = maker.does("ask", topic="strong")
    assert fact(reply, "brix") == pytest.approx(10, abs=0.1)
    # 200 ml at 10 Brix hold 20.8 g of sugar: 1.0381 g/ml by ICUMSA SPS-4 (1994) at 10 Brix
    assert fact(reply, "sugar") == pytest.approx(20.8, abs=0.1)


def test_more_water_makes_a_weaker_drink(maker: Maker) -> None:
    maker.up_to("ph")
    five, nine = (fact(maker.does("ask", topic="strong", value=n), "brix") for n in (5, 9))
    assert five > 10 > nine


@pytest.mark.parametrize(("value", "line"), [(0.5, "drink"), (60, "no_such_drink")])
def test_parts_have_their_limits(maker: Maker, value: float, line: str) -> None:
    maker.up_to("ph")
    assert maker.does("ask", topic="strong", value=value).lines[0].id == line


def test_no_drink_from_what_must_not_be_kept_or_is_no_syrup(maker: Maker) -> None:
    assert maker.does("ask", topic="strong").lines[0].id == "fruit_first"
    maker.up_to("ph")
    maker.reads("ph", 5.0, "pH")
    assert maker.does("ask", topic="strong").lines[0].id == "keep_stopped"
    acid = load_recipe("citric-solution").model_dump(mode="json")
    batch, _ = begin(Begin(at=START, batch="b", recipe=acid))
    maker.batch = batch
    maker.reads("water", 1, "l")
    assert maker.does("ask", topic="strong").lines[0].id == "no_drink"
