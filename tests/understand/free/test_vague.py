"""Told without its number: what is missing is asked for, and nothing is taken."""

import pytest
from standing import hear, meant

MISSING = """
crush | the sugar I tipped in was... | cut_off
juice | the jug is at um | cut_off
heat | it's up in the high sixties by now | only_about
heat | somewhere in the mid seventies | only_about
dissolve | half of the sugar's dissolved | partly_done
dissolve | I stirred in some citric acid | how_much_of
bottle | the bottles are all capped | bottle_size
steep | could you set a timer please | timer_length
juice | two point four litres or two point five litres | which_number
"""


@pytest.mark.parametrize("row", MISSING.strip().splitlines())
def test_what_is_missing_is_asked_for(row: str) -> None:
    where, text, doubt = (part.strip() for part in row.split("|"))
    found = hear(text, where)
    assert (found.verdict, found.events, found.doubt) == ("ask", (), doubt)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("shall I put some sugar in?", "crush"),
        ("I'll add a little citric acid later", "dissolve"),
        ("my brother is in the seventies club", "crush"),
        ("is it in the seventies", "crush"),
    ],
)
def test_a_question_or_a_plan_lacks_no_number(text: str, where: str) -> None:
    found = hear(text, where)
    assert (found.verdict, found.doubt) == ("refuse", "")


def test_a_remark_is_written_down_in_its_own_words() -> None:
    found = hear("please write down that the fruit came from the hill field", "dissolve")
    assert meant(found) == "note the fruit came from the hill field"
    assert hear("write down that it's at seventy degrees", "heat").verdict != "refuse"
    assert not any(e.kind == "note" for e in hear("note down 71 degrees", "heat").events)


def test_what_was_said_is_taken_back_only_after_a_yes() -> None:
    for text in ("ignore that", "forget what I just said", "disregard my last one"):
        found = hear(text, "juice")
        assert (found.verdict, meant(found)) == ("ask", "undo")
    assert hear("forget it", "juice").verdict == "refuse"


def test_a_time_to_be_told_of_is_a_timer_but_not_while_the_hold_is_counted() -> None:
    assert meant(hear("could you tell me when ten minutes are up", "steep")) == "timer_set 600"


def test_p_h_and_brix_in_one_breath_are_both_taken() -> None:
    found = hear("3.4 on the pH and 61 Brix", "ph")
    assert meant(found) == "ph 3.4 pH, brix 61 Brix"
