"""What the bench counts as right, asked, wrong: judged on made-up verdicts."""

from typing import Any

import pytest

from assistant.base.units import to_base
from tests.bench.scoring import Clip, asked_for, clips, judged, same

Meaning = dict[str, Any]


def reading(value: float, unit: str = "degC", what: str = "temperature") -> Meaning:
    return {"kind": "reading", "what": what, "value": value, "unit": unit}


def clip(*events: Meaning, awaiting: str = "temperature") -> Clip:
    return Clip(
        file="test/made_up.flac", set="test", words="made up", awaiting=awaiting, events=events,
        voice="gb", voice_kind="formant", noise="", snr_db=None,
    )  # fmt: skip


CHOICE = {"kind": "choose", "option": "fruit", "value": "rhubarb"}
WEIGHT = reading(3.0, "kg", "fruit")
YES = {"kind": "yes"}
RIGHT = {"kind": "correct", "value": 60.0}


@pytest.mark.parametrize(
    ("events", "taken", "offered", "outcome"),
    [
        ([reading(70)], [reading(70)], [], "taken"),
        ([reading(70)], [reading(17)], [], "wrong"),
        ([reading(70)], [reading(17)], [[reading(70)]], "wrong"),
        ([reading(70)], [reading(70), YES], [], "wrong"),
        ([reading(70)], [], [[reading(17)], [reading(70)]], "asked"),
        ([reading(70)], [], [[reading(17)]], "asked other"),
        ([reading(70)], [], [], "refused"),
        ([CHOICE, WEIGHT], [WEIGHT, CHOICE], [], "taken"),
        ([CHOICE, WEIGHT], [WEIGHT], [], "part"),
        ([CHOICE, WEIGHT], [CHOICE], [[WEIGHT]], "asked"),
        ([CHOICE, WEIGHT], [], [[CHOICE], [WEIGHT]], "asked other"),
        ([], [], [], "quiet"),
        ([], [YES], [], "wrong"),
        ([], [], [[YES]], "asked other"),
    ],
)
def test_outcome(
    events: list[Meaning], taken: list[Meaning], offered: list[list[Meaning]], outcome: str
) -> None:
    assert judged(clip(*events), taken, offered) == outcome


@pytest.mark.parametrize(
    ("wanted", "got", "alike"),
    [
        (reading(1.3, "kg", "fruit"), reading(1300, "g", "fruit"), True),
        (reading(1.3, "kg", "fruit"), reading(1.3, "g", "fruit"), False),
        (reading(1.3, "kg", "fruit"), reading(1.3, "l", "fruit"), False),
        (reading(1.3, "kg", "fruit"), reading(1.3, "kg", "sugar"), False),
        ({"kind": "bottle", "count": 7}, reading(7, "count", "bottles"), True),
        ({"kind": "bottle", "count": 7, "size_ml": 500.0}, reading(7, "count", "bottles"), False),
        (RIGHT, {**RIGHT, "unit": "degC"}, True),
        (RIGHT, {**RIGHT, "value": 16.0}, False),
        (RIGHT, reading(60), False),
        ({**RIGHT, "what": "ph"}, {**RIGHT, "what": "brix"}, False),
        ({"kind": "ask", "topic": "keep"}, {"kind": "ask", "topic": "next"}, False),
    ],
)  # fmt: skip
def test_same_meaning(wanted: Meaning, got: Meaning, alike: bool) -> None:
    assert same(wanted, got) is alike


def test_only_a_clip_that_takes_back_has_something_to_take_back() -> None:
    plain = asked_for(clip(reading(70))).find("temperature")
    back = asked_for(clip(RIGHT)).find("temperature")
    assert plain is not None
    assert plain.last is None
    assert back is not None
    assert back.last == 70.0


@pytest.mark.parametrize(
    "awaiting", ["fruit", "juice", "ph", "brix", "citric_acid", "sorbate", "bottles"]
)
def test_the_awaited_reading_comes_first(awaiting: str) -> None:
    assert asked_for(clip(awaiting=awaiting)).awaited[0].what == awaiting


def test_every_right_reading_is_inside_what_is_possible() -> None:
    for each in clips(("demo", "test")):
        for event in each.events:
            if event["kind"] == "reading":
                slot = asked_for(each).find(event["what"])
                assert slot is not None, each.file
                assert slot.low <= to_base(event["value"], event["unit"]) <= slot.high, each.file
