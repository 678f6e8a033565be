"""Progress in any words: it moves the stage it fits, and no other."""

import pytest
from standing import hear, meant

DONE = """
crush | mashed them with the sugar
crush | ok sugar's in and it's all mashed
crush | sugar's gone in
crush | I have already crush the fruits together with the sugar, so this is finish.
crush | they're all squished up now
crush | Crushed. Sugar in.
water | all in and stirred
water | yep chucked the hot water in and gave it a mix
water | Poured the water on, stirred.
steep | Time's gone, it's steeped nicely.
steep | that's the timer gone, it has rested long enough
strain | it's dripped through
strain | It's hung in the cheesecloth all this while and it's down to a drop now and then.
strain | the juice has come through, only pulp is left in the cloth
strain | Filtering is complete.
dissolve | Sugar's all melted, clear as a bell.
dissolve | no more grains at the bottom
"""
NOT_DONE = """
crush | crushing them now
crush | need to crush these
crush | only half the sugar is in
crush | the sugar is in the cupboard
crush | sugar's in but not crushed yet
crush | my sister mashed hers with a fork
crush | don't add the sugar yet
crush | is the sugar in already?
crush | I'll put the sugar in now
crush | when it's crushed I'll tell you
crush | the water's gone in
water | I'm pouring the water
steep | I'm leaving it
steep | 20 minutes to go
strain | it's still dripping
strain | straining it now
strain | almost strained
strain | strained my back
dissolve | still grainy at the bottom
dissolve | Sugar still not put, first I am taking photo.
heat | the sugar's in
option | mashed and stirred
shelf | all strained
"""


def rows(text: str) -> list[tuple[str, ...]]:
    return [tuple(p.strip() for p in line.split(" | ")) for line in text.strip().splitlines()]


@pytest.mark.parametrize(("where", "line"), rows(DONE))
def test_what_is_done_moves_the_stage_or_is_asked_about(where: str, line: str) -> None:
    found = hear(line, where)
    assert found.verdict in ("take", "ask")
    assert meant(found) == "onward"


@pytest.mark.parametrize(("where", "line"), rows(NOT_DONE))
def test_what_is_not_done_moves_nothing(where: str, line: str) -> None:
    assert "onward" not in meant(hear(line, where))


@pytest.mark.parametrize("line", ["Ninety seconds up. Moving on.", "it's coming off the stove"])
def test_where_a_number_is_waited_for_it_is_asked_for(line: str) -> None:
    assert hear(line, "heat").doubt == "number_first"


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Haan, put it.", "yes"),
        ("yeah go for it", "yes"),
        ("Is not necessary for me, thank you.", "no"),
        ("nah itll be gone in a week anyway", "no"),
        ("I'd sooner not, thank you dear.", "no"),
        ("no idea what that even is", ""),
        ("yes but what is it", ""),
        ("Yes, officer, it is my trailer.", ""),
        ("Yes, yes, all right, I'm coming down!", ""),
    ],
)
def test_yes_and_no_in_other_words(line: str, said: str) -> None:
    assert meant(hear(line, "option")) == said
