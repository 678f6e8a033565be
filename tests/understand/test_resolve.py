"""What is asked for gives words their meaning."""

import pytest
from kitchen import STAGES, brief, hear

from assistant.facts.asked import Asked


@pytest.mark.parametrize(
    ("stage", "said", "events"),
    [
        ("sugar", "480", "sugar 480 g"),
        ("sugar", "half", "sugar 0.5 g"),
        ("sugar", "four eighty", "sugar 480 g"),
        ("sugar", "two fifty", "sugar 250 g"),
        ("fruit", "2.4", "fruit 2.4 kg"),
        ("fruit", "3 lb 4 oz", "fruit 3.25 lb"),
        ("fruit", "two point four kilos of blackcurrants",
         "choose fruit blackcurrant, fruit 2.4 kg"),
        ("fruit", "blackcurrants", "choose fruit blackcurrant"),
        ("fruit", "the fruit is redcurrant", "choose fruit redcurrant"),
        ("juice", "1.2 litres of juice", "juice 1.2 l"),
        ("juice", "1200 g", "juice 1200 g"),
        ("juice", "the juice is one point two", "juice 1.2 l"),
        ("temperature", "72", "temperature 72 degC"),
        ("temperature", "seven two", "temperature 72 degC"),
        ("temperature", "162 F", "temperature 162 degF"),
        ("sugar", "it's at seventy two", "temperature 72 degC"),
        ("sugar", "p h three one", "ph 3.1 pH"),
        ("ph", "three one", "ph 3.1 pH"),
        ("ph", "three twenty five", "ph 3.25 pH"),
        ("ph", "sixty one brix", "brix 61 Brix"),
        ("brix", "61.5", "brix 61.5 Brix"),
        ("sorbate", "0.075", "sorbate 0.075 g/l"),
        ("sorbate", "0.3 g", "sorbate 0.3 g"),
        ("nothing", "0.075 grams a litre", "sorbate 0.075 g/l"),
        ("nothing", "1 g/l of ascorbic acid", "ascorbic_acid 1 g/l"),
        ("nothing", "72 degrees", "temperature 72 degC"),
        ("nothing", "pH 3.2", "ph 3.2 pH"),
        ("nothing", "half a teaspoon of citric acid", "citric_acid 0.5 tsp"),
        ("acid", "half a teaspoon of citric acid", "citric_acid 0.5 tsp"),
        ("acid", "half a teaspoon", "citric_acid 0.5 tsp"),
        ("acid", "4.8", "citric_acid 4.8 g"),
        ("heating", "the pan is at 71.5", "temperature 71.5 degC"),
        ("sugar", "the raspberries are in", "onward"),
        ("nothing", "seven bottles of half a litre", "bottle 7 500"),
        ("option", "yes", "yes"),
        ("option", "no", "no"),
        ("option", "with glycerin", "choose glycerin yes"),
        ("option", "without sorbate", "choose sorbate no"),
        ("sugar", "no, 60", "correct 60"),
        ("sugar", "make that 1.3 kg", "correct 1.3 kg"),
        ("sugar", "no, seventy two degrees", "correct 72 temperature"),
        ("nothing", "begin", "begin {}"),
        ("nothing", "make raspberry syrup", "begin {}, choose fruit raspberry"),
        ("nothing", "set a timer for 10 minutes called lid", "timer_set 600 lid"),
        ("nothing", "note the colour is dark", "note the colour is dark"),
    ],
)  # fmt: skip
def test_typed_words_are_taken_as(stage: str, said: str, events: str) -> None:
    found = hear(said, stage)
    assert (found.verdict, brief(found.events)) == ("take", events)


@pytest.mark.parametrize(
    ("stage", "said", "reason"),
    [
        ("nothing", "480", "not_now"),
        ("nothing", "two kilos", "not_now"),
        ("nothing", "two fifty", "not_now"),
        ("temperature", "10 litres", "not_now"),
        ("fruit", "two litres of blackcurrants", "wrong_unit"),
        ("nothing", "yes", "nothing_asked"),
        ("sugar", "no", "nothing_asked"),
        ("nothing", "the second one", "not_now"),
        ("nothing", "the sugar is 480", "not_now"),
        ("nothing", "hello there", "not_understood"),
        ("nothing", "", "not_understood"),
    ],
)
def test_what_does_not_fit_now_is_refused(stage: str, said: str, reason: str) -> None:
    found = hear(said, stage)
    assert (found.verdict, found.events, found.reason) == ("refuse", (), reason)


def test_the_first_unit_is_meant() -> None:
    pan = STAGES["temperature"].awaited[0].model_copy(update={"units": ("degF", "degC")})
    asked = Asked(awaited=(pan,))
    assert brief(hear("162", asked).events) == "temperature 162 degF"
    assert brief(hear("162 degrees", asked).events) == "temperature 162 degF"
    assert brief(hear("72 celsius", asked).events) == "temperature 72 degC"


def test_a_unit_finds_the_reading_that_takes_it() -> None:
    both = Asked(awaited=(*STAGES["sugar"].awaited[:1], *STAGES["juice"].awaited[:1]))
    assert brief(hear("1.2 litres", both).events) == "juice 1.2 l"
    assert brief(hear("two cups", both).events) == "juice 2 cup"
    assert brief(hear("480 g", both).events) == "sugar 480 g"


def test_what_was_heard_and_when_travels_along() -> None:
    event = hear("72 degrees", "temperature").events[0]
    assert event.heard == "72 degrees"
    assert event.sure == 1.0
