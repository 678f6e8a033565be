"""What is written down carries both clocks, and a hold in one live process believes the slower."""

from batch_maker import START
from desk_maker import begun, resumed, types

from assistant.base.clock import SetClock, WallClock
from assistant.keep import Journal
from assistant.turns.rendering import spoken

TO_THE_HOLD = ("2 kg of raspberries", "done", "done", "76 degrees")


def test_a_jump_of_the_wall_clock_holds_nothing() -> None:
    journal, clock = Journal("sqlite://"), SetClock(START)
    desk = begun(journal, clock)
    for said in TO_THE_HOLD:
        clock.forward(30)
        types(desk, said)
    clock.forward(2)
    clock.jump(300)
    turn = types(desk, "76 degrees")
    assert turn.stage == "hold"
    assert "clock was set" in spoken(turn)


def test_every_event_carries_what_was_counted() -> None:
    journal, clock = Journal("sqlite://"), SetClock(START)
    desk = begun(journal, clock)
    for said in TO_THE_HOLD:
        clock.forward(30)
        types(desk, said)
    desk.leave()
    events = journal.events(desk.in_hand().id)
    assert [e.elapsed_s for e in events] == [0, 30, 30, 60, 90, 120, 120]
    assert {e.process for e in events} == {"set"}


def test_another_process_counts_from_a_start_of_its_own() -> None:
    journal, clock = Journal("sqlite://"), SetClock(START)
    desk = begun(journal, clock)
    for said in (*TO_THE_HOLD, "77 degrees"):
        clock.forward(40)
        types(desk, said)
    clock.restart("another")
    clock.forward(60)
    again = resumed(desk.in_hand().id, journal, clock)
    turn = types(again, "77 degrees")
    assert turn.stage == "hold"
    assert "started anew" in spoken(turn)


def test_the_machines_own_clock_counts_up() -> None:
    clock = WallClock()
    one, other = clock.tick(), clock.tick()
    assert one.process == other.process
    assert other.elapsed_s >= one.elapsed_s
