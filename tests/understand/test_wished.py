"""Which calculation a sentence asks for, and that what is told asks for none."""

import tomllib
from datetime import UTC, datetime
from importlib.resources import files

import pytest

from assistant.cook.reckoned import SUBJECTS
from assistant.facts.events import Ask, Given
from assistant.understand.wished import TO, again, read_off, wish
from assistant.understand.wished.marked import marked

WAYS = tomllib.loads(files("assistant.understand.wished").joinpath("ways.toml").read_text("utf-8"))

ASKED = {
    "to_brix": ("how much sugar to get it to 65", {"target": 65}),
    "brix_now": ("what brix is it", {}),
    "boil_to": ("boil it down to 65", {"target": 65}),
    "boil_off": ("what if I boil off half a litre", {"lost": 0.5}),
    "add_sugar": ("what's the Brix if I add 300 g of sugar", {"added": 300}),
    "add_water": ("what if I add half a litre of water", {"added": 0.5}),
    "blend": ("stretch it with the 50 Brix one", {"other": 50}),
    "to_ph": ("sour it to 3.2", {"target": 3.2}),
    "add_acid": ("what's the pH if I add 5 g of citric", {"added": 5}),
    "ph_water": ("what's the pH if I add half a litre of water", {"added": 0.5}),
    "ph_ahead": ("what pH will it have", {}),
    "trial": ("50 ml took 0.2 g of citric, how much for the whole batch", {"sample": 50}),
    "time_to": ("how long to cool to 40", {"target": 40}),
    "boils_at": ("what does it boil at", {}),
    "brix_boiling": ("it boils at 104, what brix is that", {"temp": 104}),
    "sugar_cools": ("how far does the sugar cool it", {}),
    "preservative": ("how much preservative is in it now", {}),
    "dose_if": ("what if I add 2 grams of sorbate", {"added": 2}),
    "scale": ("scale it five times", {"times": 5}),
    "pan": ("will it fit in a 5 litre pan", {"pan": 5}),
    "bottles_of": ("how many 330 ml bottles will it fill", {"size": 330}),
    "fruit_for": ("how much fruit for twenty bottles of 330", {"count": 20, "size": 330}),
    "weighs": ("how much does half a litre of it weigh", {"volume": 0.5}),
    "room": ("how much room does 500 g of it take", {"mass": 500}),
    "crystals": ("will it crystallise in the fridge", {}),
    "water_activity": ("what's the water activity", {}),
    "spirit": ("how strong is it with 200 ml of 40% vodka", {"spirit": 200, "strength": 40}),
    "refractometer": ("what is 62 brix at 30 degrees really", {"reading": 62, "temp": 30}),
    "hydrometer": ("what brix is a gravity of 1.25", {"gravity": 1.25}),
    "to_water": ("how much to a litre of sparkling water", {"water": 1}),
    "jug": ("a jug for eight", {"people": 8}),
    "crowd": ("forty people at the regatta, two glasses each", {"people": 40, "each": 2}),
    "serves": ("how many glasses will nine bottles make", {"bottles": 9}),
    "taste": ("how sour is a glass at one to six", {"parts": 6}),
    "energy": ("how much sugar is in a 250 ml glass", {"glass": 250}),
    "sugar_free": ("is it sugar free", {}),
    "alcohol": ("how strong is a glass with 25 ml of 40% gin", {"spirit": 25, "strength": 40}),
}


@pytest.mark.parametrize("subject", ASKED)
def test_a_way_of_asking(subject: str) -> None:
    said, numbers = ASKED[subject]
    found = wish(said)
    assert found is not None
    assert found.subject == subject
    told = {one.name: one.value for one in found.given}
    assert {name: told.get(name) for name in numbers} == numbers


def test_every_calculation_can_be_asked_for_and_is_tried() -> None:
    assert set(WAYS["ways"]) - {TO} == set(SUBJECTS) == set(ASKED)


NOT_ASKED = [
    "I boiled off half a litre",
    "we added 300 g of sugar",
    "it is at 62 brix",
    "62 brix",
    "make that 62",
    "the meter says 58",
    "it came to 3.2",
    "it boils at 104",
    "the thermometer reads 70",
    "300 g of sugar",
    "1 g of sorbate",
    "no, 62",
    "i put in 200 ml of water",
    "nine bottles of 330",
    "a glass broke",
    "the jug holds two litres",
    "i gave two bottles to the kids",
    "one to six",
    "that took half an hour",
    "scales say 300 g",
    "the radio says 62",
]


@pytest.mark.parametrize("said", NOT_ASKED)
def test_what_is_told_asks_for_nothing(said: str) -> None:
    assert wish(said) is None


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("bring it to 62 Brix", "bring it to B1"),
        ("bring it to pH 3.2", "bring it to P1"),
        ("bring it to 62°C", "bring it to T1"),
        ("200 ml of 40% gin", "V1 of C2 gin"),
        ("a dozen bottles", "N1 bottles"),
        ("sour it to one", "sour it to N1"),
        ("-5 brix", "B1"),
    ],
)
def test_numbers_become_marks(said: str, words: str) -> None:
    assert marked(said).words == words


def test_a_number_read_off_before_a_wish() -> None:
    assert read_off("the meter says 58") == 58
    assert read_off("it should be 58") is None


def _asked(subject: str, *given: Given) -> Ask:
    at = datetime(2026, 7, 11, tzinfo=UTC)
    return Ask(at=at, topic="reckon", about=subject, given=given)


PEOPLE = Given(name="people", value=30, unit="count")
EACH = Given(name="each", value=2, unit="count")


@pytest.mark.parametrize(
    "said", ["And for a hundred and twenty?", "what about 120 guests", "and 120"]
)
def test_the_same_with_another_number(said: str) -> None:
    given = again(said, _asked("crowd", PEOPLE, EACH))
    assert given is not None
    assert [one.value for one in given] == [120, 2]


@pytest.mark.parametrize("said", ["120", "we had 120 guests", "and 300 g of sugar went in"])
def test_a_number_that_goes_on_with_nothing(said: str) -> None:
    assert again(said, _asked("crowd", PEOPLE)) is None
    assert again("and for 120?", None) is None
