"""Several fruits, frozen ones, stones, punnets and some more of it, in a cook's words."""

import pytest

from assistant.facts.events import Choose, Reading, Weighed
from tests.understand.free.standing import hear


def parts(line: str, where: str = "weigh") -> tuple[str, list[str]]:
    found = hear(line, where)
    told = found.question.candidates[0] if found.question else found.events
    readings = [e for e in told if isinstance(e, Reading)]
    return found.verdict, [_short(p) for e in readings for p in e.parts]


def _short(one: Weighed) -> str:
    marks = f"{' frozen' if one.frozen else ''}{' stones' if one.stones else ''}"
    unit = one.each or one.unit
    return f"{one.value:g} {unit} {one.fruit}{marks}"


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("500 g raspberries and 300 g blackberries", ["500 g raspberry", "300 g blackberry"]),
        (
            "a kilo of blackcurrants and then another 400 grams of raspberries",
            ["1 kg blackcurrant", "400 g raspberry"],
        ),
        (
            "I've got 1 kg of strawberries, 500 g redcurrants and 250 g of gooseberries",
            ["1 kg strawberry", "500 g redcurrant", "250 g gooseberry"],
        ),
        ("two kilos of frozen raspberries", ["2 kg raspberry frozen"]),
        ("1.5 kg raspberries from the freezer", ["1.5 kg raspberry frozen"]),
        (
            "1 kg strawberries and 500 g frozen blackberries",
            ["1 kg strawberry", "500 g blackberry frozen"],
        ),
        ("three kilos of plums with the stones", ["3 kg plum stones"]),
        ("3 kg of plums, stones included", ["3 kg plum stones"]),
        ("four punnets of strawberries", ["4 punnet strawberry"]),
        ("twelve lemons", ["12 piece lemon"]),
    ],
)
def test_it_is_taken_as_told(line: str, told: list[str]) -> None:
    assert parts(line) == ("take", told)


@pytest.mark.parametrize(
    "line",
    [
        "two kilos of raspberries and one of strawberries",
        "half raspberries, half strawberries, two kilos",
    ],
)
def test_a_fruit_without_its_weight_is_asked_for(line: str) -> None:
    found = hear(line, "weigh")
    assert (found.verdict, found.doubt) == ("ask", "two_fruits")


@pytest.mark.parametrize(
    "line",
    [
        "should I use 500 g raspberries and 300 g blackberries?",
        "I'm going to weigh 500 g raspberries and 300 g blackberries",
        "500 g of raspberries or 300 g of blackberries",
        "yesterday it was 500 g raspberries and 300 g blackberries",
    ],
)
def test_what_is_no_fact_is_never_taken(line: str) -> None:
    assert hear(line, "weigh").verdict != "take"


def test_stones_that_are_out_are_no_stones() -> None:
    assert parts("3 kg of plums with the stones and 2.8 kg of plums without the stones") == (
        "take",
        ["2.8 kg plum"],
    )


def test_more_of_it_is_more_only_where_it_is_said() -> None:
    verdict, told = parts("another 400 grams of raspberries", "crush")
    assert (verdict, told) == ("take", ["400 g raspberry"])
    found = hear("another 400 grams of raspberries", "crush")
    assert [e.more for e in found.events if isinstance(e, Reading)] == [True]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("600 ml of lime juice", ["600 ml lime"]),
        ("2 kg of grapefruit juice", ["2 kg grapefruit"]),
        ("300 ml of lemon juice and 200 ml of lime juice", ["300 ml lemon", "200 ml lime"]),
    ],
)
def test_juice_is_taken_with_its_fruit(line: str, told: list[str]) -> None:
    assert parts(line, "cordial") == ("take", told)


def test_juice_does_not_stand_for_whole_fruit() -> None:
    found = hear("600 ml of raspberry juice", "weigh")
    assert (found.verdict, found.doubt) == ("ask", "juice_for_fruit")


@pytest.mark.parametrize(
    ("line", "option", "value"),
    [
        ("boiled them for 15 minutes at 400 metres", "boiled_in_jar", "15 min, 400 m"),
        ("15 minutes, we are at 1000 feet", "boiled_in_jar", "15 min, 304.8 m"),
        ("all the lids are down", "sealed", "all"),
        ("two did not seal", "sealed", "some"),
        ("one lid is loose", "sealed", "some"),
    ],
)
def test_jars_and_seals_are_told_in_words(line: str, option: str, value: str) -> None:
    found = hear(line, "jars")
    assert found.verdict == "take"
    assert [(e.option, e.value) for e in found.events if isinstance(e, Choose)] == [(option, value)]


@pytest.mark.parametrize("line", ["shall I boil them 15 minutes at 400 metres?", "15 minutes"])
def test_jars_are_boiled_only_when_told(line: str) -> None:
    found = hear(line, "jars")
    assert not [e for e in found.events if isinstance(e, Choose)]


def test_a_fruit_nobody_knows_is_none_of_those_that_are_in() -> None:
    found = hear("we added 300 g of medlars too", "crush")
    assert (found.verdict, found.doubt) == ("ask", "unknown_fruit")
