"""Two cooks and one batch, in any front: joining is asked, losing it is told, nothing gets lost."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from desk_maker import begun, hears, resumed, types

from assistant.base.clock import SetClock
from assistant.facts.events import Reading
from assistant.hear.heard import Guess, Heard
from assistant.keep import LENGTH, Journal
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


class Cook:
    """A cook at a program of their own, in front of the same store."""

    def __init__(self, store: Path, clock: SetClock, name: str) -> None:
        self.journal, self.clock = Journal(store), clock
        self.journal.work_as(name, f"{name}'s kitchen")

    def begins(self) -> "Cook":
        self.desk = begun(self.journal, self.clock)
        return self

    def opens(self, other: "Cook") -> "Cook":
        self.desk = resumed(other.desk.in_hand().id, self.journal, self.clock)
        return self

    def types(self, text: str) -> Turn:
        self.clock.forward(10)
        return types(self.desk, text)

    def heard(self) -> list[str]:
        """What the journal holds, as it was said."""
        return [event.heard for event in self.journal.events(self.desk.in_hand().id)[1:]]


@pytest.fixture
def cooks(tmp_path: Path) -> Iterator[tuple[Cook, Cook]]:
    """Ana has begun a batch; Ben stands by."""
    clock = SetClock(START)
    ana, ben = (Cook(tmp_path / "s.sqlite", clock, name) for name in ("Ana", "Ben"))
    ana.begins().types("2 kg of raspberries")
    yield ana, ben
    ana.journal.close()
    ben.journal.close()


def test_who_comes_second_is_asked_before_anything_is_said(cooks: tuple[Cook, Cook]) -> None:
    ana, ben = cooks
    greeting = ben.opens(ana).desk.greet()
    assert greeting.verdict == "ask"
    assert "Ana in Ana's kitchen has been working on this batch since" in spoken(greeting)
    assert ana.types("done").verdict == "take"


@pytest.mark.parametrize("said", ["72 degrees", "done", "3 kg", "scratch that", "how much sugar"])
def test_what_is_said_without_joining_reaches_no_batch(cooks: tuple[Cook, Cook], said: str) -> None:
    ana, ben = cooks
    before = ana.heard()
    ben.opens(ana).desk.greet()
    turn = ben.types(said)
    assert (turn.verdict, turn.events) == ("ask", ())
    assert f"I have not taken “{said}”" in spoken(turn)
    assert ana.heard() == before


def test_who_leaves_it_to_the_other_changes_nothing(cooks: tuple[Cook, Cook]) -> None:
    ana, ben = cooks
    before = ana.heard()
    ben.opens(ana).types("72 degrees")
    assert "Left to Ana" in spoken(ben.types("no"))
    ben.desk.leave()
    assert ana.heard() == before
    assert ana.types("done").verdict == "take"


def test_who_joins_has_it_and_nothing_that_was_said_is_lost(cooks: tuple[Cook, Cook]) -> None:
    ana, ben = cooks
    ben.opens(ana).types("the juice is lovely and dark")
    turn = ben.types("yes")
    assert (turn.verdict, turn.reason) == ("take", "lease.joined")
    assert "kept as a note: “the juice is lovely and dark”" in spoken(turn)
    assert ben.types("done").verdict == "take"
    lost = ana.types("and I have put the water on")
    assert lost.verdict == "ask"
    assert "Ben in Ben's kitchen took this batch over at" in spoken(lost)
    assert "I have not taken “and I have put the water on”" in spoken(lost)
    assert "again" not in spoken(ana.types("well"))
    assert ana.types("yes").verdict == "take"
    assert ana.desk.in_hand().stage == ben.desk.in_hand().stage
    assert "and I have put the water on" in ana.heard()
    assert "took this batch over" in spoken(ben.types("done"))


def test_a_temperature_is_not_taken_of_itself_after_joining(cooks: tuple[Cook, Cook]) -> None:
    """It was said before, and the pan has gone on."""
    ana, ben = cooks
    ben.opens(ana).types("72 degrees")
    ben.types("yes")
    events = ben.journal.events(ben.desk.in_hand().id)
    assert not any(isinstance(e, Reading) and e.what == "temperature" for e in events)
    assert any(event.kind == "note" and event.heard == "72 degrees" for event in events)


def test_a_batch_that_rested_long_enough_is_taken_without_a_question(
    cooks: tuple[Cook, Cook],
) -> None:
    ana, ben = cooks
    ana.clock.forward((LENGTH + timedelta(seconds=1)).total_seconds())
    assert ben.opens(ana).types("done").verdict == "take"
    assert "Ben in Ben's kitchen took this batch over" in spoken(ana.types("done"))


def test_a_batch_that_was_left_is_free(cooks: tuple[Cook, Cook]) -> None:
    ana, ben = cooks
    ana.desk.leave()
    assert ben.opens(ana).types("done").verdict == "take"


def test_a_radio_does_not_join(cooks: tuple[Cook, Cook]) -> None:
    ana, ben = cooks
    ben.opens(ana).desk.greet()
    chatter = "and now the shipping forecast for the northern isles"
    guess = (Guess(text=chatter, share=0.9),)
    heard = Heard(text=chatter, guesses=guess, sure=0.9, engine="scripted")
    turn = hears(ben.desk, heard)
    assert (turn.verdict, spoken(turn)) == ("refuse", "")


def test_the_cook_may_stop_instead_of_answering(cooks: tuple[Cook, Cook]) -> None:
    ana, ben = cooks
    turn = ben.opens(ana).types("stop")
    assert turn.ended
    assert ana.types("done").verdict == "take"


def test_with_several_batches_the_one_of_somebody_else_is_asked_about(
    cooks: tuple[Cook, Cook],
) -> None:
    ana, ben = cooks
    desk = begun(ben.journal, ben.clock, "rhubarb-syrup")
    desk.open(ana.desk.in_hand().id)
    before = ana.heard()
    assert types(desk, "for the raspberry, 72 degrees").verdict == "ask"
    assert ana.heard() == before


def test_bottles_may_be_taken_from_a_batch_that_is_done_in_two_places(
    cooks: tuple[Cook, Cook],
) -> None:
    """Only a batch in the making is somebody's."""
    ana, ben = cooks
    ana.types("throw it away")
    ana.types("yes")
    assert ana.desk.in_hand().stage is None
    ana.desk.leave()
    ben.opens(ana).types("note it went to the ferry")
    assert ana.types("note it was sour").verdict == "take"
