"""A cook who has gone on without saying "done"."""

from datetime import UTC, datetime

import pytest
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.facts.events import Reading
from assistant.keep import Journal
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
HELD = ("2.4 kg of blackcurrants", "done", "done", "76 degrees", "77", "76", "77")


def desk_after(*said: str) -> Desk:
    clock = SetClock(START)
    desk = begun(Journal("sqlite://"), clock)
    for each in said:
        clock.forward(60)
        types(desk, each)
    return desk


def stage(desk: Desk) -> str:
    found = desk.in_hand().stage
    return found.id if found else ""


@pytest.mark.parametrize(
    ("after", "said", "then", "named"),
    [
        (HELD, "2.9 litres came through", "cool", "steep, strain and make up"),
        (HELD, "strained", "make_up", "steep"),
        (("2.4 kg of blackcurrants",), "the water's in", "heat", "crush"),
        (HELD[:2], "the water's in", "heat", ""),
    ],
)
def test_what_comes_later_is_asked_about(
    after: tuple[str, ...], said: str, then: str, named: str
) -> None:
    desk = desk_after(*after)
    before = stage(desk)
    turn = types(desk, said)
    if named:
        assert (turn.events, stage(desk)) == ((), before)
        assert named in spoken(turn)
        turn = types(desk, "yes")
    assert stage(desk) == then
    assert "say done again" not in spoken(turn)


def test_a_no_leaves_everything_as_it_was() -> None:
    desk = desk_after(*HELD)
    before = desk.in_hand()
    types(desk, "2.9 litres came through")
    types(desk, "no")
    assert desk.in_hand() == before


@pytest.mark.parametrize("said", ["2.9 litres came through", "pH 3.4", "nine bottles"])
def test_nobody_is_ahead_of_a_temperature(said: str) -> None:
    desk = desk_after("2.4 kg of blackcurrants", "done")
    types(desk, said)
    types(desk, "yes")
    assert stage(desk) == "water"


def test_the_reading_counts_with_the_stages_before_it() -> None:
    desk = desk_after(*HELD, "2.9 litres came through")
    turn = types(desk, "yes")
    assert [e.value for e in turn.events if isinstance(e, Reading)] == [2.9]
    assert desk.in_hand().start is not None
    juice = desk.in_hand().last("juice")
    assert juice is not None
    assert juice.base == 2900
