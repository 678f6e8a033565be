"""Mould and fizz as they are said, from the first word to what the cook says it was."""

import pytest
from batch_maker import START
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.keep import Journal
from assistant.turns.desk import Desk


@pytest.fixture
def desk() -> Desk:
    return begun(Journal("sqlite://"), SetClock(START))


@pytest.mark.parametrize(
    "said", ["there's mould on it", "it's fizzing", "oh no, the juice has grown white fluff on top"]
)
def test_a_sign_is_written_down_and_holds_the_batch(desk: Desk, said: str) -> None:
    turn = types(desk, "2 kg of raspberries", said)
    assert turn.stopped
    assert [event.kind for event in turn.events] == ["sign"]
    assert types(desk, "done").stage == "crush"


@pytest.mark.parametrize("said", ["no", "false alarm", "it was only foam", "it's not mould"])
def test_a_false_alarm_lets_it_go_on(desk: Desk, said: str) -> None:
    types(desk, "2 kg of raspberries", "there's mould on it")
    assert not types(desk, said).stopped
    assert types(desk, "done").stage == "water"


@pytest.mark.parametrize("said", ["yes", "it really is", "it's definitely fermenting"])
def test_what_is_sure_stands(desk: Desk, said: str) -> None:
    types(desk, "2 kg of raspberries", "it's fizzing")
    assert types(desk, said).stopped
    assert types(desk, "false alarm").stopped
    assert types(desk, "throw it away", "yes").stage == "discarded"
