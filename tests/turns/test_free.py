"""Questions in any words, which of two is meant, what follows on, and the fallback."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.keep import Journal
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown, spoken

BEGUN = datetime(2026, 7, 11, 10, 0, tzinfo=UTC)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    with Journal(tmp_path / "journal.sqlite") as journal:
        yield begun(journal, SetClock(BEGUN))


def say(desk: Desk, *lines: str) -> list[dict[str, object]]:
    for line in lines:
        turn = types(desk, line)
    return [event.meaning() for event in turn.events]


def test_a_topic_is_found_in_other_words(desk: Desk) -> None:
    asked = say(desk, "2.4 kilos of blackcurrants", "how much sugar did you say again?")
    assert asked == [{"kind": "ask", "topic": "how_much", "about": "sugar"}]


def test_a_fragment_goes_on_with_the_last_question(desk: Desk) -> None:
    asked = say(desk, "2.4 kilos of blackcurrants", "how much sugar", "and the water?")
    assert asked == [{"kind": "ask", "topic": "how_much", "about": "water"}]
    asked = say(desk, "how long does it keep", "and in the freezer?")
    assert asked == [{"kind": "ask", "topic": "keep", "about": "freezer"}]


def test_the_fallback_never_says_the_same_twice_running(desk: Desk) -> None:
    first = spoken(types(desk, "purple elephants dance quietly"))
    second = spoken(types(desk, "purple elephants dance quietly"))
    assert first != second


def test_a_word_of_danger_gets_its_caution(desk: Desk) -> None:
    turn = types(desk, "the elephant swallowed a splinter of the lampshade")
    assert any("Glass" in line for line in shown(turn))


@pytest.mark.parametrize(
    ("line", "signs"),
    [
        ("no mould at all", 0),
        ("it's not fizzing", 0),
        ("is it fizzing?", 0),
        ("there's furry stuff growing in one of the bottles", 1),
    ],
)
def test_a_sign_denied_or_asked_about_is_not_written_down(
    tmp_path: Path, line: str, signs: int
) -> None:
    bottled = ("1 litre of water", "done", "ph 2.2", "4 bottles of 250 ml", "done")
    with Journal(tmp_path / "journal.sqlite") as journal:
        desk = begun(journal, SetClock(BEGUN), "citric-solution")
        told = say(desk, *bottled, line)
    assert sum(event["kind"] == "sign" for event in told) == signs


@pytest.mark.parametrize(("said", "starts"), [("hi", "Hello"), ("Thank you!", "You are welcome")])
def test_manners_get_an_answer_and_change_nothing(desk: Desk, said: str, starts: str) -> None:
    turn = types(desk, said)
    assert turn.events == ()
    assert spoken(turn).startswith(starts)
