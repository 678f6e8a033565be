"""What is written down carries both clocks, and a hold in one live process believes the slower."""

from batch_maker import START

from assistant.base.clock import SetClock, WallClock
from assistant.hear.heard import Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.turns.session import Session

TO_THE_HOLD = ("2 kg of raspberries", "done", "done", "76 degrees")


def test_a_jump_of_the_wall_clock_holds_nothing() -> None:
    journal, clock = Journal("sqlite://"), SetClock(START)
    session = Session.start(load_recipe("berry-syrup"), journal, clock)
    for said in TO_THE_HOLD:
        clock.forward(30)
        session.hear(Heard.typed(said))
    clock.forward(2)
    clock.jump(300)
    turn = session.hear(Heard.typed("76 degrees"))
    assert turn.stage == "hold"
    assert "clock was set" in turn.say


def test_every_event_carries_what_was_counted() -> None:
    journal, clock = Journal("sqlite://"), SetClock(START)
    session = Session.start(load_recipe("berry-syrup"), journal, clock)
    for said in TO_THE_HOLD:
        clock.forward(30)
        session.hear(Heard.typed(said))
    session.leave()
    events = journal.events(session.batch.id)
    assert [e.elapsed_s for e in events] == [0, 30, 30, 60, 90, 120, 120]
    assert {e.process for e in events} == {"set"}


def test_another_process_counts_from_a_start_of_its_own() -> None:
    journal, clock = Journal("sqlite://"), SetClock(START)
    session = Session.start(load_recipe("berry-syrup"), journal, clock)
    for said in (*TO_THE_HOLD, "77 degrees"):
        clock.forward(40)
        session.hear(Heard.typed(said))
    clock.restart("another")
    clock.forward(60)
    again = Session.resume(session.batch.id, journal, clock)
    turn = again.hear(Heard.typed("77 degrees"))
    assert turn.stage == "hold"
    assert "started anew" in turn.say


def test_the_machines_own_clock_counts_up() -> None:
    clock = WallClock()
    one, other = clock.tick(), clock.tick()
    assert one.process == other.process
    assert other.elapsed_s >= one.elapsed_s
