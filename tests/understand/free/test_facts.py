"""Facts inside talk: taken where all of it is understood, else asked, never one half."""

import pytest
from standing import hear, meant

from assistant.facts.events import Bottle

TAKEN = """
weigh | so I weighed the raspberries and it's 1 kilo 250 | choose fruit raspberry, fruit 1.25 kg
weigh | I've got about two kilos of strawberries here | choose fruit strawberry, fruit 2 kg
weigh | Black currant, kilo and a half, washed, ready. | choose fruit blackcurrant, fruit 1.5 kg
weigh | weight is coming two kg only | fruit 2 kg
weigh | hang on, it was 1.8 kilos | fruit 1.8 kg
weigh | 500g raspberries and 300g blackberries | fruit 800 g
weigh | a kilo of blackcurrants and then another 400 grams of raspberries | fruit 1400 g
weigh | three punnets of strawberries | fruit 3 count
crush | i put 600 grams in | sugar 600 g
crush | put 650 g of sugar, it's crushed | sugar 650 g
heat | the needle's resting on one hundred and sixty degrees Fahrenheit now | temperature 160 degF
heat | it came up to 71 just now | temperature 71 degC
heat | that's sixty now chef | temperature 60 degC
heat | Thirty-eight and climbing. | temperature 38 degC
heat | up to 62 | temperature 62 degC
heat | my jam thermometer says a hundred and ten, that's Fahrenheit of course | temperature 110 degF
juice | we ended up with three and a quarter litres | juice 3.25 l
juice | that gave me two point eight litres of juice | juice 2.8 l
juice | Juice two point nine litres, sitting at 58 degrees. | juice 2.9 l, temperature 58 degC
ph | it came out at 3.3 | ph 3.3 pH
ph | pH is coming three point two only | ph 3.2 pH
dissolve | Sugar's clear, pH three point three. | onward, ph 3.3 pH
dissolve | the juice that I said before is false, it was 2.7 litre | correct 2.7 l juice
dissolve | my bad the fruit was 2.6 kg i forgot the second tub | correct 2.6 kg fruit
bottle | Nine by five hundred mil, labelled | bottle 9 500
bottle | eight bottles, half a litre each | bottle 8 500
"""
ASKED = """
weigh | a crate of strawberries, 2.6 kilos after hulling | choose fruit strawberry, fruit 2.6 kg
weigh | half strawberries, half raspberries, a kilo each | two_fruits
weigh | two kilos of raspberries and one of strawberries | two_fruits
weigh | got 2 kilos of chikoo from the terrace | unknown_fruit
weigh | the box says 2 kilos, but there's some bad ones in it | not_measured
weigh | mom said theres like 5 pounds but i havent weighed it | not_measured
crush | I scooped in three cups of sugar | by_volume
crush | the strawberries weigh 2.4 not 2.6 | correct 2.4 fruit
heat | nearly 70 | below
heat | Getting on for seventy degrees, I should think. | below
heat | sixty to seventy | which_number
heat | um its like 45? | temperature 45 degC
juice | a litre, another litre then 850 ml of juice | juice 2850 ml
bottle | 7 half litre bottles and one small one | small_size
bottle | 7 and a half bottles | bottle_size
bottle | 7 half litre bottles and a bit | part_left
"""
NOTHING = """
weigh | Don't put two kilos down, I haven't weighed it
weigh | I'm going to weigh out two kilos
weigh | how much sugar for two kilos of fruit?
weigh | I bought 3 pounds of butter
weigh | the bowl weighs 400 grams
weigh | blackcurrants were 400 rupees a kilo can u believe
weigh | I've got a 5 litre pan
crush | I haven't got 600 grams of sugar
crush | Should I add 600 g?
heat | I'll heat it to seventy
heat | is eighty too hot?
heat | the oven is at 180
heat | wait until it hits 75
heat | it was 40 a minute ago
heat | it isn't at seventy
heat | if it gets to 80 I turn it off
heat | it's 41 outside today
heat | hob is on 7
heat | its 4:45 already and my match is at 5:30
heat | lol my phones at 12 percent
heat | turn it to six
heat | 70 or 75?
juice | 2 litre jug
juice | I need 3 litres
ph | calibrating with pH 4 buffer
ph | Buffer reads seven. Calibrating.
ph | the lemon juice is about 2.4
bottle | I need nine bottles
bottle | I've a dozen half-litre bottles in the cupboard, but I've not begun.
bottle | buy ten half litre bottles
"""


def table(text: str) -> list[tuple[str, ...]]:
    rows = [line for line in text.strip().splitlines() if line]
    return [tuple(part.strip() for part in row.split(" | ")) for row in rows]


@pytest.mark.parametrize(("where", "line", "events"), table(TAKEN))
def test_what_is_told_clearly_is_taken(where: str, line: str, events: str) -> None:
    found = hear(line, where)
    assert (found.verdict, meant(found)) == ("take", events)


@pytest.mark.parametrize(("where", "line", "events"), table(ASKED))
def test_what_is_told_in_part_is_asked_about(where: str, line: str, events: str) -> None:
    found = hear(line, where)
    assert (found.verdict, meant(found)) == ("ask", events)
    assert not found.events


@pytest.mark.parametrize(
    ("line", "lots"),
    [
        ("7 half litre bottles and one of 330", [(7, 500), (1, 330)]),
        ("so thats three one litre bottles and three half litres", [(3, 1000), (3, 500)]),
    ],
)
def test_bottles_of_two_sizes_are_one_filling(line: str, lots: list[tuple[int, float]]) -> None:
    found = hear(line, "bottle")
    assert found.verdict == "take"
    (event,) = found.events
    assert isinstance(event, Bottle)
    assert [(lot.count, lot.size_ml) for lot in event.lots] == lots


@pytest.mark.parametrize(("where", "line"), table(NOTHING))
def test_what_is_no_fact_is_nothing(where: str, line: str) -> None:
    assert hear(line, where).verdict == "refuse"


@pytest.mark.parametrize(("where", "line", "events"), table(TAKEN))
def test_speech_is_never_believed_more_than_typing(where: str, line: str, events: str) -> None:
    found = hear(line, where, spoken=True)
    assert found.verdict == "refuse" or events in meant(found)


def test_two_kilos_three_is_told_in_tenths() -> None:
    assert meant(hear("i make it two kilos three of blackcurrants", "weigh")).endswith("2.3 kg")
