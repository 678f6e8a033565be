"""How a batch went: its stages with their times, and where it left the plan."""

from batch_maker import Maker

from assistant.planning.differences import differences
from assistant.planning.replay import stays
from assistant.report.course import (
    called,
    difference_lines,
    difference_records,
    stay_lines,
    stay_records,
)

WHOLE = Maker().up_to("finished")
HALF = Maker().up_to("steep")


def test_the_stages_are_told_with_their_times() -> None:
    lines = stay_lines(stays(WHOLE.journal))
    (steep,) = [line for line in lines if " steep " in line]
    assert steep.endswith("21 min")
    assert len(lines) == len(stay_records(stays(WHOLE.journal)))


def test_where_it_is_still_it_says_so() -> None:
    assert stay_lines(stays(HALF.journal))[-1].endswith("still there")
    assert stay_records(stays(HALF.journal))[-1]["left"] is None


def test_nothing_yet_is_said_too() -> None:
    assert stay_lines([]) == ["  none"]
    assert difference_lines([]) == ["  nothing to compare yet"]


def test_what_is_off_plan_is_marked() -> None:
    maker = Maker().up_to("crush")
    maker.reads("sugar", 800, "g")
    lines = difference_lines(differences(maker.journal))
    (sugar,) = [line for line in lines if "the first sugar" in line]
    assert sugar.endswith("off plan")
    assert "800 g" in sugar


def test_everything_that_differs_has_a_name() -> None:
    found = differences(WHOLE.journal)
    assert {called(one) for one in found} >= {"juice", "pH", "sugar in the syrup", "hold counted"}
    assert all("_" not in called(one) for one in found)
    assert [record["what"] for record in difference_records(found)] == [one.name for one in found]
