"""Questions in any words, which of two is meant, what follows on, and the fallback."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.base.clock import SetClock
from assistant.hear.heard import Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.turns.session import Session

BEGUN = datetime(2026, 7, 11, 10, 0, tzinfo=UTC)


@pytest.fixture
def session(tmp_path: Path) -> Session:
    with Journal(tmp_path / "journal.sqlite") as journal:
        yield Session.start(load_recipe("berry-syrup"), journal, SetClock(BEGUN))


def say(session: Session, *lines: str) -> list[dict[str, object]]:
    for line in lines:
        turn = session.hear(Heard.typed(line))
    return [event.meaning() for event in turn.events]


def test_a_topic_is_found_in_other_words(session: Session) -> None:
    asked = say(session, "2.4 kilos of blackcurrants", "how much sugar did you say again?")
    assert asked == [{"kind": "ask", "topic": "how_much", "about": "sugar"}]


def test_a_fragment_goes_on_with_the_last_question(session: Session) -> None:
    asked = say(session, "2.4 kilos of blackcurrants", "how much sugar", "and the water?")
    assert asked == [{"kind": "ask", "topic": "how_much", "about": "water"}]
    asked = say(session, "how long does it keep", "and in the freezer?")
    assert asked == [{"kind": "ask", "topic": "keep", "about": "freezer"}]


def test_the_fallback_never_says_the_same_twice_running(session: Session) -> None:
    first = session.hear(Heard.typed("purple elephants dance quietly")).say
    second = session.hear(Heard.typed("purple elephants dance quietly")).say
    assert first != second


def test_a_word_of_danger_gets_its_caution(session: Session) -> None:
    turn = session.hear(Heard.typed("the elephant swallowed a splinter of the lampshade"))
    assert any("Glass" in line for line in turn.show)


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
        session = Session.start(load_recipe("citric-solution"), journal, SetClock(BEGUN))
        told = say(session, *bottled, line)
    assert sum(event["kind"] == "sign" for event in told) == signs
