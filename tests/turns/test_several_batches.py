"""Several batches at once: every word reaches the batch it is for, or is asked about."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from batch_maker import without_history
from desk_maker import hears, types
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.base.clock import SetClock
from assistant.base.errors import WrongUse
from assistant.cook import fold
from assistant.facts.events import Reading, Stop
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe, recipe_for
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


class Stove:
    """Batches at work, raspberry and rhubarb, and a clock that is told the time."""

    def __init__(self, store: Path | str, *fruits: str) -> None:
        self.journal, self.clock = Journal(store), SetClock(START)
        self.desk = Desk(self.journal, self.clock, recipe_for)
        for fruit in fruits or ("raspberry", "rhubarb"):
            self.desk.begin(recipe_for(fruit), fruit)

    def types(self, *lines: str, after_s: float = 30) -> Turn:
        for line in lines:
            self.clock.forward(after_s)
            turn = types(self.desk, line)
        return turn

    def readings(self, fruit: str) -> list[float]:
        (batch,) = [b for b in self.desk.batches if b.fruit == fruit]
        events = self.journal.events(batch.id)
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
    assert spoken(turn).startswith("Raspberry: ")
    stove.types("three kilos for the rhubarb")
    assert (stove.readings("raspberry"), stove.readings("rhubarb")) == ([2000], [3000])


def test_the_batch_named_last_is_in_hand(stove: Stove) -> None:
    assert "rhubarb" in spoken(stove.types("for the rhubarb"))
    stove.types("for the raspberry, two kilos")
    assert spoken(stove.types("how much sugar")).startswith("Raspberry")
    assert stove.types("scratch that").verdict == "take"
    assert spoken(stove.types("where are we")).startswith("Raspberry: Step one")


@pytest.mark.parametrize("said", ["go on with the rhubarb", "carry on with the rhubarb"])
def test_turning_to_a_batch_is_no_done(stove: Stove, said: str) -> None:
    stove.types("for the rhubarb, 3 kg", "for the raspberry, 2 kg")
    before = stove.desk.batches[1].stage
    assert spoken(stove.types(said)).startswith("Rhubarb")
    assert stove.desk.in_hand().fruit == "rhubarb"
    assert stove.desk.in_hand().stage == before


def test_a_reading_that_two_batches_wait_for_is_asked_about(two_pans: Stove) -> None:
    turn = two_pans.types("68 degrees")
    assert (turn.verdict, spoken(turn)) == ("ask", "Is that for the blackcurrant or the raspberry?")
    assert two_pans.readings("raspberry") == two_pans.readings("blackcurrant") == [2000]
    assert spoken(two_pans.types("the raspberry")).startswith("Raspberry: ")
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
    reminder = stove.desk.remind()
    assert reminder is not None
    assert spoken(reminder).startswith("Raspberry: ")
    assert spoken(stove.types("done")) == "Is that for the rhubarb or the raspberry?"
    assert spoken(stove.types("rhubarb")).startswith("Rhubarb: ")


def test_a_question_about_a_number_stays_with_its_batch(stove: Stove) -> None:
    guesses = (Guess(text="for the raspberry fourteen kilos", share=0.95),)
    heard = Heard(text=guesses[0].text, guesses=guesses, sure=0.9, engine="scripted")
    assert spoken(hears(stove.desk, heard)) == "Raspberry: Fourteen or forty?"
    stove.types("fourteen")
    assert (stove.readings("raspberry"), stove.readings("rhubarb")) == ([14000], [])


def test_two_devices_talk_about_batches_of_their_own(stove: Stove) -> None:
    raspberry, rhubarb = (batch.id for batch in stove.desk.batches)
    stove.desk.switch(raspberry, "tablet")
    stove.desk.switch(rhubarb, "phone")
    for device, fruit in (("tablet", "raspberry"), ("phone", "rhubarb")):
        turn = stove.desk.take(Utterance.typed("where are we", device=device))
        assert spoken(turn).lower().startswith(f"{fruit}: "), device
        assert stove.desk.in_hand(device).fruit == fruit


def test_a_batch_begun_by_word(stove: Stove) -> None:
    turn = stove.types("start a batch of blackcurrant syrup")
    assert spoken(turn).startswith("Blackcurrant: ")
    assert stove.desk.batches[-1].fruit == "blackcurrant"
    stove.types("1 kg")
    assert stove.readings("blackcurrant") == [1000]


def test_two_of_one_kind_are_told_apart(stove: Stove) -> None:
    stove.types("start a batch of raspberry syrup", "2 kg")
    turn = stove.types("for the raspberry, done")
    assert spoken(turn) == "Is that for the first raspberry or the second raspberry?"
    assert spoken(stove.types("the second raspberry")).startswith("Second raspberry: ")


def test_nothing_of_that_name_is_at_work(stove: Stove) -> None:
    turn = stove.types("for the plum, 68 degrees")
    assert turn.verdict == "ask"
    assert "No plum batch" in spoken(turn)
    assert stove.readings("rhubarb") == []


def test_a_wish_without_a_recipe_is_refused(stove: Stove) -> None:
    with pytest.raises(WrongUse, match="no recipe for fig"):
        recipe_for("fig")
    assert "no recipe" in spoken(stove.types("start a batch of fig syrup"))
    assert len(stove.desk.batches) == 2


def test_where_everything_is(stove: Stove) -> None:
    turn = stove.types("where is everything")
    assert "Raspberry: " in spoken(turn)
    assert "Rhubarb: " in spoken(turn)


def test_stop_ends_all_and_all_can_be_gone_on_with(stove: Stove) -> None:
    stove.types("for the raspberry, 2 kg")
    assert stove.types("stop").ended
    for batch in stove.desk.batches:
        events = stove.journal.events(batch.id)
        assert isinstance(events[-1], Stop)
        assert without_history(fold(events)[0]) == without_history(batch)


def test_one_batch_is_spoken_of_without_its_name(tmp_path: Path) -> None:
    alone = Desk(Journal(tmp_path / "journal.sqlite"), SetClock(START))
    alone.begin(recipe_for("raspberry"), "raspberry")
    assert not spoken(alone.greet()).startswith("Raspberry")
    assert not spoken(types(alone, "for the raspberry, 2 kg")).startswith("Raspberry")
    assert "begun already" in spoken(types(alone, "start a batch of rhubarb syrup"))


def test_a_fruits_name_answers_which_fruit_it_is(tmp_path: Path) -> None:
    stove = Stove(tmp_path / "journal.sqlite", "raspberry")
    fresh = stove.desk.begin(load_recipe("berry-syrup"))
    stove.types("raspberry")
    assert stove.desk.in_hand().id == fresh.id
    assert stove.desk.in_hand().fruit == "raspberry"


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
    for batch in stove.desk.batches:
        events = stove.journal.events(batch.id)
        assert without_history(fold(events)[0]) == without_history(batch)
