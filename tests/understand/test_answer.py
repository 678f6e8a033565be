"""What is said while a question is open."""

import pytest
from kitchen import NOW, STAGES, brief, hear, offered, pan, spoken

from assistant.facts.asked import Asked
from assistant.understand import Question
from assistant.understand.resolve import Moment, focused

WARM = Asked(awaited=(pan(20.0, 3600),))


def question(said: str, stage: str | Asked) -> Question:
    found = hear(spoken(said), stage).question
    assert found is not None
    return found


SEVENTEEN = question("seventeen", WARM)


def test_the_question_of_these_tests() -> None:
    assert [brief(c) for c in SEVENTEEN.candidates] == [
        "temperature 17 degC",
        "temperature 70 degC",
    ]


@pytest.mark.parametrize(
    ("said", "events"),
    [
        ("seventeen", "temperature 17 degC"),
        ("seventeen degrees", "temperature 17 degC"),
        ("no seventeen", "temperature 17 degC"),
        ("one seven", "temperature 17 degC"),
        ("seven zero", "temperature 70 degC"),
        ("no, seven oh", "temperature 70 degC"),
        ("the second one", "temperature 70 degC"),
        ("the first", "temperature 17 degC"),
        ("the last one", "temperature 70 degC"),
    ],
)
def test_one_of_the_candidates_is_taken(said: str, events: str) -> None:
    found = hear(spoken(said), WARM, SEVENTEEN)
    assert (found.verdict, brief(found.events)) == ("take", events)


def test_a_repeat_that_disagrees_with_the_first_hearing_is_asked_once_more() -> None:
    found = hear(spoken("seventy"), WARM, SEVENTEEN)
    assert (found.verdict, found.reason) == ("ask", "sounds_alike")
    assert offered(found) == ["temperature 70 degC"]
    assert brief(hear(spoken("yes"), WARM, found.question).events) == "temperature 70 degC"


def test_typed_answers_are_taken_at_their_word() -> None:
    assert brief(hear("70", WARM, SEVENTEEN).events) == "temperature 70 degC"


def test_a_weak_repeat_is_asked_again() -> None:
    found = hear(spoken(("seventeen", 0.7)), WARM, SEVENTEEN)
    assert (found.verdict, found.reason, offered(found)) == (
        "ask", "unsure", ["temperature 17 degC"],
    )  # fmt: skip


def test_a_candidate_that_decides_needs_more_than_its_repeat() -> None:
    """The same word in the same voice may be misheard the same way twice."""
    asked = Asked(awaited=(pan(20.0, 3600, 65.0),))
    first = question("seventy", asked)
    again = hear(spoken("seventy"), asked, first)
    assert (again.verdict, again.reason, offered(again)) == (
        "ask", "decides", ["temperature 70 degC"],
    )  # fmt: skip
    for sure in ("yes", "seven zero", "the first one"):
        pending = again.question if sure == "yes" else first
        assert hear(spoken(sure), asked, pending).verdict == "take"


def test_a_candidate_that_can_hardly_be_needs_more_than_its_repeat() -> None:
    first = question("seventeen", "heating")
    assert hear(spoken("seventeen"), "heating", first).reason == "impossible"
    assert brief(hear(spoken("one seven"), "heating", first).events) == "temperature 17 degC"


@pytest.mark.parametrize(
    ("stage", "said", "answer", "events"),
    [
        ("heating", "seventy six", "yes", "temperature 76 degC"),
        ("heating", "seventy six", "that's right", "temperature 76 degC"),
        ("heating", "seventy six", "seventy six", "temperature 76 degC"),
        ("ph", "thirty two", "yes", "ph 3.2 pH"),
        ("ph", "thirty two", "three point two", "ph 3.2 pH"),
        ("fruit", "four hundred and eighty four", "yes", "fruit 484 g"),
        ("fruit", "two twenty two", "two point two two", "fruit 2.22 kg"),
        ("fruit", "two twenty two", "two hundred and twenty two grams", "fruit 222 g"),
        ("fruit", "cherries", "sour cherries", "choose fruit sour-cherry"),
        ("nothing", "set a timer for fifteen minutes", "one five", "timer_set 900"),
        ("nothing", "set a timer for fifteen minutes", "the second", "timer_set 3000"),
        ("nothing", "fourteen bottles", "four zero", "bottle 40"),
        ("nothing", "fourteen bottles", "no, one four", "bottle 14"),
        ("nothing", "throw it away", "yes", "discard"),
        ("nothing", "throw it away", "throw it away", "discard"),
    ],
)
def test_a_question_and_its_answer(stage: str, said: str, answer: str, events: str) -> None:
    found = hear(spoken(answer), stage, question(said, stage))
    assert (found.verdict, brief(found.events)) == ("take", events)


@pytest.mark.parametrize("said", ["no", "nope", "scratch that", "that's wrong"])
def test_no_drops_the_question(said: str) -> None:
    for pending in (SEVENTEEN, question("seventy six", "heating")):
        found = hear(spoken(said), WARM, pending)
        assert (found.verdict, found.events, found.reason) == ("refuse", (), "say_again_please")


@pytest.mark.parametrize("said", ["yes", "say that again", "pardon"])
def test_what_does_not_choose_repeats_the_question(said: str) -> None:
    found = hear(spoken(said), WARM, SEVENTEEN)
    assert found.question == SEVENTEEN


@pytest.mark.parametrize("said", ["yes", "no"])
def test_a_weak_yes_or_no_repeats_the_question(said: str) -> None:
    pending = question("seventy six", "heating")
    assert hear(spoken((said, 0.5)), "heating", pending).question == pending


@pytest.mark.parametrize(
    ("said", "verdict", "what"),
    [
        ("twenty one", "take", "temperature 21 degC"),
        ("no, twenty one", "take", "temperature 21 degC"),
        ("p h three point two", "ask", "ph 3.2 pH"),
        ("why", "take", "ask why"),
        ("thirteen", "ask", "temperature 13 degC"),
    ],
)
def test_something_else_is_judged_afresh(said: str, verdict: str, what: str) -> None:
    found = hear(spoken(said), Asked(awaited=(*WARM.awaited, *STAGES["ph"].awaited)), SEVENTEEN)
    assert found.verdict == verdict
    assert what in (brief(found.events), *offered(found))


def test_chatter_is_no_answer() -> None:
    assert hear(spoken("it was seventeen in the garden"), WARM, SEVENTEEN).verdict == "refuse"


def test_the_third_of_two_is_no_answer() -> None:
    assert hear(spoken("the third one"), WARM, SEVENTEEN).verdict == "refuse"


def test_a_bare_number_answers_what_the_question_is_about() -> None:
    pending = question("p h thirty two", "sugar")
    assert brief(hear(spoken("three point two"), "sugar", pending).events) == "ph 3.2 pH"
    assert focused(STAGES["sugar"], pending).awaited[0].what == "ph"


def test_another_number_for_a_timer_is_a_timer() -> None:
    pending = question("set a timer for fifteen minutes", "sugar")
    assert brief(hear(spoken("twenty two"), "sugar", pending).events) == "timer_set 1320"
    assert brief(hear(spoken("no, twenty two"), "sugar", pending).events) == "timer_set 1320"


def test_another_number_of_bottles_is_bottles() -> None:
    pending = question("fourteen bottles", "sugar")
    assert brief(hear(spoken("twelve"), "sugar", pending).events) == "bottle 12"
    assert hear(spoken("one and a half"), "sugar", pending).verdict == "refuse"


def test_a_correction_in_question_stays_a_correction() -> None:
    pending = question("no, sixty", "sugar")
    assert brief(hear(spoken("six zero"), "sugar", pending).events) == "correct 60"


def test_a_unit_in_question_is_the_unit_meant() -> None:
    pending = question("one hundred and seventy fahrenheit", "heating")
    asked = focused(STAGES["heating"], pending)
    assert asked.awaited[0].units == ("degF", "degC")


def test_a_question_about_words_leaves_numbers_alone() -> None:
    pending = question("throw it away", "sugar")
    assert focused(STAGES["sugar"], pending) == STAGES["sugar"]
    assert brief(hear("480", "sugar", pending).events) == "sugar 480 g"


def test_a_moment_without_a_question_is_about_nothing() -> None:
    assert Moment(STAGES["sugar"], NOW).about is None
