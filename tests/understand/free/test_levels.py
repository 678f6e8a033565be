"""A number told by movement, heat or a meter while something is put in: never an amount of that."""

import pytest
from standing import NOW, STANDING, hear, meant

from assistant.facts.asked import Asked
from assistant.hear.heard import Heard
from assistant.understand import understand

READ_OFF = """
crush | creeping past sixty | above
crush | it's down to 43 | temperature 43 degC
crush | we've climbed to 66 | temperature 66 degC
crush | on the hob, forty already | temperature 40 degC
water | 66 and climbing | temperature 66 degC
crush | meter says 4.7 | ph 4.7 pH
water | the meter's on 3.4 | ph 3.4 pH
weigh | hit 70 | temperature 70 degC
weigh | meter says 3.3 | ph 3.3 pH
heat | the meter reads 3.4 | ph 3.4 pH
ph | it's dropped to 52 | temperature 52 degC
steep | it's down to 43 | temperature 43 degC
crush | 2.4 litres dripped out | juice 2.4 l
water | 2.4 litres came through the cloth | juice 2.4 l
"""
PUT_IN = """
crush | 580 went in | sugar 580 g
crush | put 600 in, all of it dropped in | sugar 600 g
"""


def rows(table: str) -> list[list[str]]:
    return [[cell.strip() for cell in line.split("|")] for line in table.split("\n") if line]


@pytest.mark.parametrize(("where", "said", "wanted"), rows(READ_OFF))
def test_what_is_read_off_is_no_amount(where: str, said: str, wanted: str) -> None:
    found = hear(said, where)
    assert meant(found) == wanted
    assert found.verdict == "ask"


@pytest.mark.parametrize(("where", "said", "wanted"), rows(PUT_IN))
def test_what_was_put_in_is_an_amount(where: str, said: str, wanted: str) -> None:
    assert meant(hear(said, where)) == wanted


def planning(grams: float) -> Asked:
    asked = STANDING["dissolve"]
    sugar = asked.awaited[0].model_copy(update={"planned": grams})
    return asked.model_copy(update={"awaited": (sugar, *asked.awaited[1:])})


@pytest.mark.parametrize(
    ("grams", "said", "wanted"),
    [
        (3160.0, "it's 3.3 now", ["sugar 3.3 kg", "ph 3.3 pH"]),
        (600.0, "it's 3.3 now", ["ph 3.3 pH", "sugar 3.3 g"]),
        (600.0, "3.3", ["ph 3.3 pH", "sugar 3.3 g"]),
    ],
)
def test_a_broken_number_that_can_be_a_ph_is_asked(
    grams: float, said: str, wanted: list[str]
) -> None:
    found = understand(Heard.typed(said), planning(grams), NOW)
    assert found.question is not None
    assert [f"{e.what} {e.value:g} {e.unit}" for (e,) in found.question.candidates] == wanted  # type: ignore[union-attr]


def test_the_plans_own_size_is_the_amount() -> None:
    found = understand(Heard.typed("2.86"), planning(2860.0), NOW)
    assert [e.meaning()["value"] for e in found.events] == [2.86]
