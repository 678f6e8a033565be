"""Mould and fizz as they are said, from the first word to what the cook says it was."""

import pytest
from batch_maker import START

from assistant.base.clock import SetClock
from assistant.hear.heard import Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.turns.session import Session, Turn


@pytest.fixture
def session() -> Session:
    return Session.start(load_recipe("berry-syrup"), Journal("sqlite://"), SetClock(START))


def types(session: Session, *said: str) -> Turn:
    for each in said:
        turn = session.hear(Heard.typed(each))
    return turn


@pytest.mark.parametrize(
    "said", ["there's mould on it", "it's fizzing", "oh no, the juice has grown white fluff on top"]
)
def test_a_sign_is_written_down_and_holds_the_batch(session: Session, said: str) -> None:
    turn = types(session, "2 kg of raspberries", said)
    assert turn.stopped
    assert [event.kind for event in turn.events] == ["sign"]
    assert types(session, "done").stage == "crush"


@pytest.mark.parametrize("said", ["no", "false alarm", "it was only foam", "it's not mould"])
def test_a_false_alarm_lets_it_go_on(session: Session, said: str) -> None:
    types(session, "2 kg of raspberries", "there's mould on it")
    assert not types(session, said).stopped
    assert types(session, "done").stage == "water"


@pytest.mark.parametrize("said", ["yes", "it really is", "it's definitely fermenting"])
def test_what_is_sure_stands(session: Session, said: str) -> None:
    types(session, "2 kg of raspberries", "it's fizzing")
    assert types(session, said).stopped
    assert types(session, "false alarm").stopped
    assert types(session, "throw it away", "yes").stage == "discarded"
