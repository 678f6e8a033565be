"""A cook who has gone on without saying "done"."""

from datetime import UTC, datetime

import pytest
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.facts.events import Reading
from assistant.keep import Journal
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
HELD = ("2.4 kg of blackcurrants", "done", "done", "76 degrees", "77", "76", "77")


def desk_after(*said: str) -> Desk:
    clock = SetClock(START)
    desk = begun(Journal("sqlite://"), clock)
    for each in said:
        clock.forward(60)
        types(desk, each)
    return desk


def desk_says(desk: Desk, *said: str) -> Turn:
    """Each a minute after the one before; the last one's turn."""
    for each in said:
        desk._clock.forward(60)  # type: ignore[attr-defined]
        turn = types(desk, each)
    return turn


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


@pytest.mark.parametrize(
    "said", ["2.9 litres came through", "nine bottles of half a litre", "citric went in"]
)
def test_nobody_is_ahead_of_a_temperature(said: str) -> None:
    desk = desk_after("2.4 kg of blackcurrants", "done")
    assert "what the thermometer reads" in spoken(types(desk, said))
    turn = types(desk, "yes")
    assert (stage(desk), [e.kind for e in turn.events]) == ("heat", ["onward"])
    assert "what the thermometer reads" in spoken(types(desk, said))
    assert "say done" not in spoken(types(desk, "yes"))
    assert stage(desk) == "heat"


TO_THE_JUICE = (*HELD, "done", "done", "done", "done")
TO_THE_OPTIONS = (*TO_THE_JUICE, "2.9 litres", "44 degrees", "done", "done")


@pytest.mark.parametrize(
    ("after", "said", "wants"),
    [
        (HELD, "citric went in", "how much juice there is"),
        (TO_THE_JUICE, "nine bottles of half a litre", "how much juice there is"),
        (TO_THE_OPTIONS, "nine bottles of half a litre", "a yes or no to ascorbic acid"),
        (HELD[:1], "lid's on, it's off the heat", "what the thermometer reads"),
    ],
)
def test_what_lies_between_is_asked_for(after: tuple[str, ...], said: str, wants: str) -> None:
    desk = desk_after(*after)
    turn = types(desk, said)
    assert wants in spoken(turn)
    assert turn.events == ()


def test_what_was_said_too_early_is_asked_about_where_it_fits() -> None:
    desk = desk_after("2.4 kg of blackcurrants", "done", "done")
    types(desk, "2.8 litres dripped out")
    assert "2.8 litres" not in spoken(types(desk, "76 degrees"))
    turn = desk_says(desk, "77", "76", "77", "done", "done", "done", "done")
    assert "2.8 litres dripped out" in spoken(turn)
    types(desk, "yes")
    juice = desk.in_hand().last("juice")
    assert juice is not None
    assert (juice.base, stage(desk)) == (2800, "cool")


def test_what_was_said_too_early_and_denied_is_forgotten() -> None:
    desk = desk_after(*HELD[:3])
    types(desk, "2.8 litres dripped out")
    desk_says(desk, "76 degrees", "77", "76", "77", "done", "done", "done", "done", "no")
    assert (desk.in_hand().last("juice"), stage(desk)) == (None, "juice")
    assert "dripped out" not in spoken(types(desk, "2.9 litres"))


@pytest.mark.parametrize("said", ["61 degrees", "it's down to 43", "66 and climbing"])
def test_who_calls_the_thermometer_is_at_the_heating(said: str) -> None:
    desk = desk_after("2.4 kg of blackcurrants")
    assert "crush and water" in spoken(types(desk, said))
    assert stage(desk) == "crush"
    types(desk, "yes")
    last = desk.in_hand().last("temperature")
    assert last is not None
    assert stage(desk) == "heat"


def test_a_temperature_counts_though_nothing_before_it_is_done() -> None:
    desk = desk_after("2.4 kg of blackcurrants", "done")
    desk_says(desk, "92 degrees", "no")
    last = desk.in_hand().last("temperature")
    assert last is not None
    assert (last.base, stage(desk)) == (92, "water")


def test_a_cool_reading_is_but_a_reading() -> None:
    desk = desk_after("2.4 kg of blackcurrants")
    types(desk, "18 degrees")
    last = desk.in_hand().last("temperature")
    assert last is not None
    assert (last.base, stage(desk)) == (18, "crush")


def test_the_reading_counts_with_the_stages_before_it() -> None:
    desk = desk_after(*HELD, "2.9 litres came through")
    turn = types(desk, "yes")
    assert [e.value for e in turn.events if isinstance(e, Reading)] == [2.9]
    assert desk.in_hand().start is not None
    juice = desk.in_hand().last("juice")
    assert juice is not None
    assert juice.base == 2900
