"""What a number can be here."""

import pytest
from kitchen import BOTTLES, FRUIT, NOW, PAN, PH, STAGES, pan

from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Bottle, Correct, Onward, Reading, TimerSet
from assistant.hear.heard import Heard
from assistant.understand import understand
from assistant.understand.bounds import (
    absurd,
    coldest,
    context,
    decides,
    hottest,
    inside,
    number_in,
    plausible,
    reachable,
)


def reading(what: str, value: float, unit: str) -> Reading:
    return Reading(at=NOW, what=what, value=value, unit=unit)  # type: ignore[arg-type]


def warm(value: float, unit: str = "degC") -> Reading:
    return reading("temperature", value, unit)


@pytest.mark.parametrize(
    ("event", "expected"),
    [
        (warm(-273.2), True),
        (warm(-273.1), False),
        (warm(-460, "degF"), True),
        (reading("ph", 14.1, "pH"), True),
        (reading("ph", 14.0, "pH"), False),
        (reading("ph", -0.1, "pH"), True),
        (reading("brix", 100.1, "Brix"), True),
        (reading("brix", 99.0, "Brix"), False),
        (reading("fruit", -1, "kg"), True),
        (reading("sorbate", -0.1, "g/l"), True),
        (reading("fruit", 1e6, "kg"), False),
        (Correct(at=NOW, value=-5), False),
        (Correct(at=NOW, value=-5, unit="kg"), True),
    ],
)
def test_what_no_kitchen_has(event: AnyEvent, expected: bool) -> None:
    assert absurd(event) is expected


@pytest.mark.parametrize(
    ("event", "expected"),
    [
        (warm(115), True),
        (warm(115.1), False),
        (warm(-5.1), False),
        (warm(238, "degF"), True),
        (warm(240, "degF"), False),
        (reading("fruit", 0.1, "kg"), True),
        (reading("fruit", 99, "g"), False),
        (reading("fruit", 51, "kg"), False),
        (reading("sugar", 1e9, "kg"), True),
        (reading("sugar", -1, "kg"), False),
        (Correct(at=NOW, value=400, what="temperature"), False),
        (Bottle(at=NOW, count=500), True),
        (Bottle(at=NOW, count=501), False),
    ],
)
def test_inside_the_bounds_of_what_is_awaited(event: AnyEvent, expected: bool) -> None:
    assert inside(event, Asked(awaited=(FRUIT, PAN, BOTTLES))) is expected


def test_a_bare_correction_is_judged_by_the_latest_reading() -> None:
    asked = Asked(awaited=(FRUIT, pan(60, 10)))
    assert context(Correct(at=NOW, value=70), asked) == asked.awaited[1]
    assert not inside(Correct(at=NOW, value=700), asked)


def test_a_volume_can_t_be_judged_by_bounds_of_mass() -> None:
    assert context(reading("fruit", 2, "l"), Asked(awaited=(FRUIT,))) is None


@pytest.mark.parametrize("seconds", [0, 1, 10, 60, 600])
@pytest.mark.parametrize("last", [-18.0, 0.0, 20.0, 68.0, 100.0])
def test_the_range_a_pan_can_reach_grows_with_time(last: float, seconds: float) -> None:
    assert coldest(last, seconds) < last < hottest(last, seconds)
    assert coldest(last, seconds + 1) <= coldest(last, seconds)
    assert hottest(last, seconds + 1) > hottest(last, seconds)


@pytest.mark.parametrize(
    ("last", "seconds", "value", "expected"),
    [
        (68, 10, 17, False),
        (68, 10, 70, True),
        (68, 60, 17, False),
        (68, 600, 17, True),
        (20, 10, 70, False),
        (20, 30, 70, True),
        (68, -5, 70, True),
        (68, -5, 90, False),
        (-2, 10, -3, True),
    ],
)
def test_how_fast_a_pan_can_change(
    last: float, seconds: float, value: float, expected: bool
) -> None:
    asked = Asked(awaited=(pan(last, seconds),))
    assert reachable(warm(value), asked, NOW) is expected
    assert plausible((warm(value),), asked, NOW) is expected


def test_without_a_last_reading_all_is_reachable() -> None:
    assert reachable(warm(90), STAGES["temperature"], NOW)
    assert reachable(reading("fruit", 1, "kg"), STAGES["fruit"], NOW)


@pytest.mark.parametrize(
    ("last", "value", "expected"),
    [
        (68, 74.9, False),
        (68, 75.0, True),
        (76, 74.9, True),
        (76, 75.0, False),
        (75, 75.5, False),
        (None, 74.0, False),
        (None, 75.0, True),
    ],
)
def test_a_value_across_the_bound_decides(last: float | None, value: float, expected: bool) -> None:
    awaited = PAN.model_copy(update={"decides": (75.0,), "last": last})
    assert decides(warm(value), Asked(awaited=(awaited,))) is expected


def test_any_ph_decides_when_there_was_none() -> None:
    awaited = PH.model_copy(update={"confirm": False})
    assert decides(reading("ph", 2.9, "pH"), Asked(awaited=(awaited,)))
    again = awaited.model_copy(update={"last": 3.0})
    assert not decides(reading("ph", 3.2, "pH"), Asked(awaited=(again,)))
    assert decides(reading("ph", 4.1, "pH"), Asked(awaited=(again,)))


def test_what_is_to_be_confirmed_decides_always() -> None:
    awaited = PAN.model_copy(update={"confirm": True, "last": 70.0})
    assert decides(warm(70.5), Asked(awaited=(awaited,)))
    assert not decides(Onward(at=NOW), Asked(awaited=(awaited,)))


def test_the_event_with_the_number() -> None:
    timer = TimerSet(at=NOW, seconds=60)
    assert number_in((Onward(at=NOW), timer)) is timer
    assert number_in((Onward(at=NOW),)) is None


@pytest.mark.parametrize(
    ("words", "verdict"),
    [
        ("746 minute timer", "ask"),
        ("set a timer for seven hundred and twenty minutes", "take"),
        ("set a timer for two hours", "take"),
        ("set a timer for forty six minutes", "take"),
    ],
)
def test_a_long_timer_in_odd_minutes_is_asked(words: str, verdict: str) -> None:
    found = understand(Heard.typed(words), Asked(), NOW)
    assert found.verdict == verdict
