"""Answers to questions of ours that say only the missing piece; numbers put right; part bottles."""

import pytest
from test_wrong_place import Cook

from assistant.facts.events import Bottle, Correct, Reading, TimerSet
from assistant.turns.rendering import spoken


@pytest.mark.parametrize("said", ["five minutes", "um, five minutes", "make it five minutes"])
def test_a_timer_s_length_alone(said: str) -> None:
    turn = Cook("hold").types("set a timer", said)
    assert [e.seconds for e in turn.events if isinstance(e, TimerSet)] == [300]


def test_a_length_alone_is_no_timer_where_none_was_asked_for() -> None:
    cook = Cook("hold")
    assert cook.types("set a timer", "where are we", "five minutes").events == ()


def test_a_number_alone_answers_what_it_reads() -> None:
    cook = Cook("water")
    cook.types("creeping past sixty", "sixty one", "yes")
    last = cook.desk.in_hand().last("temperature")
    assert last is not None
    assert (last.base, cook.stage) == (61, "heat")


@pytest.mark.parametrize("size", ["half litres", "half a litre each", "500 ml"])
def test_the_size_alone(size: str) -> None:
    turn = Cook("bottle").types("nine", size)
    assert [(e.count, e.size_ml) for e in turn.events if isinstance(e, Bottle)] == [(9, 500)]


PARTS = [
    (("seven and a half bottles", "half a litre", "yes"), [(7, 500), (1, 250)]),
    (("seven and a half bottles of 330", "yes"), [(7, 330), (1, 165)]),
    (("six full ones and a bit", "half litres", "200 ml"), [(6, 500), (1, 200)]),
    (("eight of half a litre and a bit left over", "about 180 ml"), [(8, 500), (1, 180)]),
]


@pytest.mark.parametrize(("said", "filled"), PARTS)
def test_the_last_bottle_is_but_partly_full(
    said: tuple[str, ...], filled: list[tuple[int, float]]
) -> None:
    cook = Cook("bottle")
    cook.types(*said[:-1])
    assert cook.desk.in_hand().bottled is None
    turn = cook.types(said[-1])
    lots = [lot for e in turn.events if isinstance(e, Bottle) for lot in e.lots]
    assert [(lot.count, lot.vessel.inside_ml) for lot in lots] == filled
    assert lots[0].size_ml == lots[1].size_ml


def test_bottles_are_not_taken_for_a_ph_put_right() -> None:
    cook = Cook("bottle")
    turn = cook.types("make that six")
    assert spoken(turn) == "P h six or six bottles?"
    assert cook.desk.in_hand().last("ph").base == 3.3  # type: ignore[union-attr]
    turn = cook.types("six bottles of half a litre")
    assert cook.desk.in_hand().bottled.count == 6  # type: ignore[union-attr]


def test_a_broken_number_puts_the_ph_right() -> None:
    turn = Cook("bottle").types("make that 3.4")
    assert [e.value for e in turn.events if isinstance(e, Correct)] == [3.4]


@pytest.mark.parametrize(
    "said", ["that pH was wrong, it should be 3.6", "the pH was wrong, it's 3.6"]
)
def test_a_ph_named_a_clause_before_is_put_right(said: str) -> None:
    cook = Cook("bottle")
    if cook.types(said).verdict == "ask":
        cook.types("yes")
    assert cook.desk.in_hand().last("ph").base == 3.6  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("answer", "unit"), [("litres", "l"), ("2.9 kilos", "kg"), ("the second", "kg"), ("2.9 l", "l")]
)
def test_juice_that_may_be_measured_or_weighed_needs_its_unit(answer: str, unit: str) -> None:
    cook = Cook("juice")
    cook.types("2.3")
    assert cook.stage == "juice"
    turn = cook.types(answer.replace("2.9", "2.3"))
    assert [(e.value, e.unit) for e in turn.events if isinstance(e, Reading)] == [(2.3, unit)]


@pytest.mark.parametrize(
    ("stage", "said", "right", "value"),
    [
        ("juice", "2.3 litres", "scratch that, it was 2.4", 2.4),
        ("weigh", "2.6 kg of raspberries", "wait no, it was 2.4", 2.4),
        ("heat", "61 degrees", "sorry I misread, it's 51", 51),
    ],
)
def test_a_number_alone_puts_right_what_was_told_last(
    stage: str, said: str, right: str, value: float
) -> None:
    cook = Cook(stage)
    cook.types(said)
    what = cook.desk.in_hand().taken[-1].what
    if cook.types(right).verdict == "ask":
        cook.types("yes")
    last = cook.desk.in_hand().last(what)
    assert last is not None
    assert last.reading.value == value


def test_what_is_put_in_is_what_was_named_last() -> None:
    cook = Cook("sharpen")
    cook.types("the gum went like rubber balls when i put it in, how do i get them out")
    assert (cook.stage, cook.went_in("citric_acid")) == ("sharpen", 0)
