"""What only resembles a report or an order is asked about, and what "that" stands for is found."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

BEGUN = datetime(2026, 7, 11, 10, 0, tzinfo=UTC)
TO_WATER = ("2.4 kilos of blackcurrants", "done")


@pytest.fixture
def clock() -> SetClock:
    return SetClock(BEGUN)


@pytest.fixture
def desk(tmp_path: Path, clock: SetClock) -> Iterator[Desk]:
    with Journal(tmp_path / "journal.sqlite") as journal:
        yield begun(journal, clock)


def said(desk: Desk, *lines: str) -> Turn:
    """The turn of the last of some lines."""
    for line in lines:
        turn = types(desk, line)
    return turn


def test_a_report_in_other_words_is_asked_about_and_not_taken(desk: Desk, clock: SetClock) -> None:
    said(desk, *TO_WATER, "done")
    for _ in range(5):
        said(desk, "76 degrees")
        clock.forward(25)
    assert said(desk, "where are we").stage == "steep"
    turn = said(desk, "steeping time is completed")
    assert (turn.verdict, turn.events, turn.stage) == ("ask", (), "steep")
    assert "Done, is that right?" in " ".join(shown(turn))


def test_throwing_away_is_never_taken_by_a_likeness(desk: Desk) -> None:
    turn = said(desk, *TO_WATER, "that's it, the whole lot has just gone down the plughole")
    assert all(event.kind != "discard" for event in turn.events)
    assert turn.stage == "water"


def test_talk_about_another_dish_moves_nothing(desk: Desk) -> None:
    for line in ("your cake has risen beautifully", "the soup is ready, come and get it"):
        assert said(desk, line).events == ()
    assert desk.in_hand().stage is not None
    assert desk.in_hand().stage.id == "weigh"


def test_that_amount_is_told_in_another_unit(desk: Desk) -> None:
    turn = said(desk, *TO_WATER, "what's that in cups")
    assert turn.events[0].kind == "ask"
    assert "960 ml is 4 cups" in " ".join(
        shown(turn)
    )  # 240 ml a cup: NIST SP 811, the kitchen's cup


def test_an_amount_without_a_name_is_of_what_is_asked_for(desk: Desk) -> None:
    turn = said(desk, "2.4 kilos of blackcurrants", "what's twelve grams in teaspoons")
    assert "sugar" in " ".join(shown(turn))


def test_the_last_number_of_a_sentence_nobody_understands_is_asked_about(desk: Desk) -> None:
    line = "it settles at sixty six, then sixty seven. Sixty seven it stays."
    turn = said(desk, *TO_WATER, "done", line)
    assert (turn.verdict, turn.events) == ("ask", ())
    assert "67 °C" in " ".join(shown(turn))


def test_a_plan_in_such_a_sentence_is_not_asked_about(desk: Desk) -> None:
    turn = said(desk, *TO_WATER, "done", "i'll take the wobbly thing to sixty seven i think")
    assert "67" not in " ".join(shown(turn))


def hears(desk: Desk, text: str) -> Turn:
    heard = Heard(text=text, guesses=(Guess(text=text, share=1.0),), sure=1.0, engine="whisper")
    return desk.take(Utterance(heard=heard))


@pytest.mark.parametrize(
    "line",
    [
        "she's crushed about it, poor thing, they had only just got engaged",
        "he was ever so crushed when the other crew won the cup",
    ],
)
def test_talk_in_the_words_of_the_stage_is_not_taken_when_spoken(desk: Desk, line: str) -> None:
    said(desk, "2.4 kilos of blackcurrants")
    turn = hears(desk, line)
    assert (turn.events, turn.stage) == ((), "crush")


def test_a_report_in_plain_words_is_still_taken_when_spoken(desk: Desk) -> None:
    said(desk, "2.4 kilos of blackcurrants")
    assert hears(desk, "they are all crushed now with the sugar").stage == "water"


@pytest.mark.parametrize("line", ["We're at the second line on it.", "It's gone quite cloudy pink"])
def test_who_tells_what_is_not_understood_hears_what_is_needed(desk: Desk, line: str) -> None:
    turn = said(desk, *TO_WATER, "done", line)
    if turn.verdict == "refuse":
        assert "what the thermometer reads" in " ".join(shown(turn))
