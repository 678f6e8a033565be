"""Several batches at once: every word reaches the batch it is for, or is asked about."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from assistant.turns.kitchen import Kitchen
from batch_maker import without_history
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.base.clock import SetClock
from assistant.base.errors import WrongUse
from assistant.cook import fold
from assistant.facts.events import Reading, Stop
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe, recipe_for
from assistant.turns.session import Session, Turn

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


class Stove:
    """Batches at work, raspberry and rhubarb, and a clock that is told the time."""

    def __init__(self, store: Path | str, *fruits: str) -> None:
        self.journal, self.clock = Journal(store), SetClock(START)
        sessions = [self.begin(fruit) for fruit in fruits or ("raspberry", "rhubarb")]
        self.kitchen = Kitchen(sessions, self.begin)

    def begin(self, fruit: str) -> Session:
        session = Session.start(recipe_for(fruit), self.journal, self.clock)
        session.name_fruit(fruit)
        return session

    def types(self, *lines: str, after_s: float = 30) -> Turn:
        for line in lines:
            self.clock.forward(after_s)
            turn = self.kitchen.hear(Heard.typed(line))
        return turn

    def readings(self, fruit: str) -> list[float]:
        (session,) = [s for s in self.kitchen.sessions if s.batch.fruit == fruit]
        events = self.journal.events(session.batch.id)
        return [e.base for e in events if isinstance(e, Reading)]


@pytest.fixture
def stove(tmp_path: Path) -> Stove:
    return Stove(tmp_path / "journal.sqlite")


@pytest.fixture
def two_pans(tmp_path: Path) -> Stove:
    """Raspberry and blackcurrant on the fire, both to be heated, the blackcurrant in hand."""
    stove = Stove(tmp_path / "journal.sqlite", "raspberry", "blackcurrant")
    for fruit in ("raspberry", "blackcurrant"):
        stove.types(f"for the {fruit}, 2 kg", *[f"for the {fruit}, done"] * 2)
    return stove


def test_a_reading_goes_to_the_batch_it_names(stove: Stove) -> None:
    turn = stove.types("for the raspberry, two kilos")
    assert turn.say.startswith("Raspberry: ")
    stove.types("three kilos for the rhubarb")
    assert (stove.readings("raspberry"), stove.readings("rhubarb")) == ([2000], [3000])


def test_the_batch_named_last_is_in_hand(stove: Stove) -> None:
    assert "rhubarb" in stove.types("for the rhubarb").say
    stove.types("for the raspberry, two kilos")
    assert stove.types("how much sugar").say.startswith("Raspberry")
    assert stove.types("scratch that").verdict == "take"
    assert stove.types("where are we").say.startswith("Raspberry: Step one")


@pytest.mark.parametrize("said", ["go on with the rhubarb", "carry on with the rhubarb"])
def test_turning_to_a_batch_is_no_done(stove: Stove, said: str) -> None:
    stove.types("for the rhubarb, 3 kg", "for the raspberry, 2 kg")
    before = stove.kitchen.sessions[1].batch.stage
    assert stove.types(said).say.startswith("Rhubarb")
    assert stove.kitchen.batch.fruit == "rhubarb"
    assert stove.kitchen.batch.stage == before


def test_a_reading_that_two_batches_wait_for_is_asked_about(two_pans: Stove) -> None:
    turn = two_pans.types("68 degrees")
    assert (turn.verdict, turn.say) == ("ask", "Is that for the blackcurrant or the raspberry?")
    assert two_pans.readings("raspberry") == two_pans.readings("blackcurrant") == [2000]
    assert two_pans.types("the raspberry").say.startswith("Raspberry: ")
    assert two_pans.readings("raspberry") == [2000, 68]
    assert two_pans.readings("blackcurrant") == [2000]


def test_such_a_question_is_dropped_when_the_cook_goes_on(two_pans: Stove) -> None:
    two_pans.types("68 degrees", "where are we", "for the raspberry")
    assert two_pans.readings("raspberry") == two_pans.readings("blackcurrant") == [2000]


def test_who_has_just_named_a_batch_means_it(two_pans: Stove) -> None:
    assert two_pans.types("for the raspberry", "68 degrees").verdict == "take"
    assert two_pans.readings("raspberry") == [2000, 68]
    assert two_pans.types("70 degrees").verdict == "ask"


def test_an_answer_after_another_batch_called_is_asked_about(stove: Stove) -> None:
    stove.types("for the raspberry, set a timer for one minute", "for the rhubarb, 3 kg")
    stove.clock.forward(60)
    reminder = stove.kitchen.remind()
    assert reminder is not None
    assert reminder.say.startswith("Raspberry: ")
    assert stove.types("done").say == "Is that for the rhubarb or the raspberry?"
    assert stove.types("rhubarb").say.startswith("Rhubarb: ")


def test_a_question_about_a_number_stays_with_its_batch(stove: Stove) -> None:
    guesses = (Guess(text="for the raspberry fourteen kilos", share=0.95),)
    heard = Heard(text=guesses[0].text, guesses=guesses, sure=0.9, engine="scripted")
    assert stove.kitchen.hear(heard).say == "Raspberry: Fourteen or forty?"
    stove.types("fourteen")
    assert (stove.readings("raspberry"), stove.readings("rhubarb")) == ([14000], [])


def test_a_batch_begun_by_word(stove: Stove) -> None:
    turn = stove.types("start a batch of blackcurrant syrup")
    assert turn.say.startswith("Blackcurrant: ")
    assert [s.batch.fruit for s in stove.kitchen.sessions][-1] == "blackcurrant"
    stove.types("1 kg")
    assert stove.readings("blackcurrant") == [1000]


def test_two_of_one_kind_are_told_apart(stove: Stove) -> None:
    stove.types("start a batch of raspberry syrup", "2 kg")
    turn = stove.types("for the raspberry, done")
    assert turn.say == "Is that for the first raspberry or the second raspberry?"
    assert stove.types("the second raspberry").say.startswith("Second raspberry: ")


def test_nothing_of_that_name_is_at_work(stove: Stove) -> None:
    turn = stove.types("for the plum, 68 degrees")
    assert turn.verdict == "ask"
    assert "No plum batch" in turn.say
    assert stove.readings("rhubarb") == []


def test_a_wish_without_a_recipe_is_refused(stove: Stove) -> None:
    with pytest.raises(WrongUse, match="no recipe for fig"):
        stove.begin("fig")
    assert "no recipe" in stove.types("start a batch of fig syrup").say
    assert len(stove.kitchen.sessions) == 2


def test_where_everything_is(stove: Stove) -> None:
    turn = stove.types("where is everything")
    assert "Raspberry: " in turn.say
    assert "Rhubarb: " in turn.say


def test_stop_ends_all_and_all_can_be_gone_on_with(stove: Stove) -> None:
    stove.types("for the raspberry, 2 kg")
    assert stove.types("stop").ended
    for session in stove.kitchen.sessions:
        events = stove.journal.events(session.batch.id)
        assert isinstance(events[-1], Stop)
        assert without_history(fold(events)[0]) == without_history(session.batch)


def test_one_batch_is_spoken_of_without_its_name(tmp_path: Path) -> None:
    stove = Stove(tmp_path / "journal.sqlite")
    alone = Kitchen((stove.begin("raspberry"),))
    assert not alone.greet().say.startswith("Raspberry")
    assert not alone.hear(Heard.typed("for the raspberry, 2 kg")).say.startswith("Raspberry")
    assert "begun already" in alone.hear(Heard.typed("start a batch of rhubarb syrup")).say


def test_a_fruits_name_answers_which_fruit_it_is(tmp_path: Path) -> None:
    stove = Stove(tmp_path / "journal.sqlite")
    fresh = Session.start(load_recipe("berry-syrup"), stove.journal, stove.clock)
    kitchen = Kitchen((stove.kitchen.sessions[0], fresh))
    kitchen.hear(Heard.typed("raspberry"))
    assert fresh.batch.fruit == "raspberry"


LINES = st.sampled_from(
    ["2 kg", "for the raspberry, 68 degrees", "68 degrees", "the rhubarb", "done", "scratch that",
     "raspberry", "for the rhubarb, done", "where is everything", "no, sixty", "how much sugar",
     "start a batch of blackcurrant syrup", "for the plum, done", "yes", "pH 3.1", "9 bottles"]
)  # fmt: skip


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(LINES, max_size=12))
def test_whatever_is_said_every_journal_folds_to_its_batch(lines: list[str]) -> None:
    stove = Stove("sqlite://")
    stove.types(*lines) if lines else None
    for session in stove.kitchen.sessions:
        events = stove.journal.events(session.batch.id)
        assert without_history(fold(events)[0]) == without_history(session.batch)
