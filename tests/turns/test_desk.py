"""The desk: what is heard is judged, written down and answered, in that order."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from batch_maker import without_history
from desk_maker import begun, hears, resumed, types

from assistant.base.clock import SetClock
from assistant.base.errors import StoreUnusable, WrongUse
from assistant.cook import fold
from assistant.facts.events import Stop
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


class Kitchen:
    """A desk with a clock that is told the time."""

    def __init__(self, store: Path) -> None:
        self.journal = Journal(store)
        self.clock = SetClock(START)
        self.desk = begun(self.journal, self.clock)

    def types(self, text: str, after_s: float = 30) -> Turn:
        self.clock.forward(after_s)
        return types(self.desk, text)

    def says(self, *texts: str, after_s: float = 30, shares: tuple[float, ...] = (0.95,)) -> Turn:
        """Spoken, with alternatives and their shares."""
        self.clock.forward(after_s)
        guesses = tuple(Guess(text=t, share=s) for t, s in zip(texts, shares, strict=True))
        heard = Heard(text=texts[0], guesses=guesses, sure=0.9, engine="scripted")
        return hears(self.desk, heard)

    def stored(self) -> int:
        return len(self.journal.events(self.desk.in_hand().id))


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen(tmp_path / "journal.sqlite")


def test_what_must_be_known_before_is_said_at_the_beginning(tmp_path: Path) -> None:
    with Journal(tmp_path / "gum.sqlite") as journal:
        said = spoken(begun(journal, SetClock(START), "gum-syrup").greet())
    assert "evening before" in said


def test_what_was_taken_is_in_the_journal_before_the_answer(kitchen: Kitchen) -> None:
    assert kitchen.stored() == 1
    kitchen.types("2 kg of raspberries")
    assert kitchen.stored() == 3  # which fruit, and how much
    kitchen.types("how much sugar")
    assert kitchen.stored() == 4


def test_what_was_not_taken_is_not(kitchen: Kitchen) -> None:
    assert kitchen.types("the canoe needs paint").verdict == "refuse"
    assert kitchen.says("fourteen kilos").verdict == "ask"
    assert kitchen.stored() == 1


def test_a_replay_is_the_session(kitchen: Kitchen) -> None:
    for text in ("2 kg of raspberries", "done", "no", "done", "58 C", "no, 59", "scratch that"):
        kitchen.types(text)
    replayed, _ = fold(kitchen.journal.events(kitchen.desk.in_hand().id))
    assert without_history(replayed) == without_history(kitchen.desk.in_hand())


def test_a_spoken_number_with_a_twin_is_asked_and_answered(kitchen: Kitchen) -> None:
    asked = kitchen.says("fourteen kilos")
    assert asked.verdict == "ask"
    assert "ourteen" in spoken(asked)
    assert "forty" in spoken(asked)
    again = kitchen.says("forty")
    assert "orty kilos" in spoken(again), "the answer can be misheard as well"
    assert "is that right" in spoken(kitchen.says("yes")), "more than small pans hold"
    assert kitchen.says("yes").verdict == "take"
    last = kitchen.desk.in_hand().last("fruit")
    assert last is not None
    assert last.base == 40_000


def test_a_reading_that_decides_counts_only_after_yes(kitchen: Kitchen) -> None:
    for text in ("2 kg of raspberries", "done", "done", "58 C"):
        kitchen.types(text)
    asked = kitchen.says("seventy six degrees", after_s=120)
    assert (asked.verdict, asked.stage) == ("ask", "heat")
    said_at = kitchen.clock.now()
    assert kitchen.says("yes", after_s=5).stage == "hold"
    last = kitchen.desk.in_hand().last("temperature")
    assert last is not None
    assert last.at == said_at, "the reading keeps the time it was said"


def test_no_drops_the_question(kitchen: Kitchen) -> None:
    for text in ("2 kg", "done", "done", "58 C"):
        kitchen.types(text)
    kitchen.says("seventy six degrees", after_s=120)
    assert kitchen.says("no").stage == "heat"
    assert kitchen.desk.in_hand().last("temperature").base == 58  # type: ignore[union-attr]


def test_typed_numbers_are_taken_as_typed(kitchen: Kitchen) -> None:
    for text in ("2 kg", "done", "done", "58 C"):
        kitchen.types(text)
    assert kitchen.types("76", after_s=120).stage == "hold"


def test_a_session_resumes_where_it_was(kitchen: Kitchen) -> None:
    kitchen.types("2 kg of raspberries")
    kitchen.types("done")
    again = resumed(kitchen.desk.in_hand().id, kitchen.journal, kitchen.clock)
    assert without_history(again.in_hand()) == without_history(kitchen.desk.in_hand())
    assert "hot water" in spoken(again.greet())


def test_leaving_in_good_order_is_written_down(kitchen: Kitchen) -> None:
    kitchen.desk.leave()
    assert isinstance(kitchen.journal.events(kitchen.desk.in_hand().id)[-1], Stop)


def test_a_second_session_does_not_write_over_the_first(kitchen: Kitchen) -> None:
    other = resumed(kitchen.desk.in_hand().id, kitchen.journal, kitchen.clock)
    kitchen.types("2 kg")
    held = kitchen.stored()
    turn = types(other, "3 kg")
    assert (turn.verdict, turn.reason) == ("ask", "lease.went_on")
    assert "I have not taken “3 kg”" in spoken(turn)
    assert other.in_hand().stage == kitchen.desk.in_hand().stage
    assert kitchen.stored() == held


def test_what_could_not_be_written_does_not_count(kitchen: Kitchen) -> None:
    before = kitchen.desk.in_hand()
    kitchen.journal.engine.dispose()
    with kitchen.journal.engine.begin() as connection:
        connection.exec_driver_sql("DROP TABLE events")
    with pytest.raises(StoreUnusable):
        kitchen.types("2 kg")
    assert kitchen.desk.in_hand() is before


def test_an_unknown_batch_is_wrong_use(kitchen: Kitchen) -> None:
    with pytest.raises(WrongUse, match="no batch"):
        resumed("none", kitchen.journal, kitchen.clock)


def test_a_timer_rings_once(kitchen: Kitchen) -> None:
    kitchen.types("set a timer for ten minutes")
    assert kitchen.desk.remind() is None
    kitchen.clock.forward(601)
    rung = kitchen.desk.remind()
    assert rung is not None
    assert "Time is up" in spoken(rung)
    assert kitchen.desk.remind() is None


def test_a_running_hold_asks_for_the_next_reading_once(kitchen: Kitchen) -> None:
    for text in ("2 kg", "done", "done", "76 C"):
        kitchen.types(text)
    kitchen.clock.forward(30)
    assert kitchen.desk.remind() is None
    kitchen.clock.forward(20)
    told = kitchen.desk.remind()
    assert told is not None
    assert "Read the thermometer" in spoken(told)
    assert kitchen.desk.remind() is None
    kitchen.types("77", after_s=2)
    kitchen.clock.forward(50)
    assert kitchen.desk.remind() is not None


def test_a_rest_that_is_over_is_said(kitchen: Kitchen) -> None:
    for text in ("2 kg", "done", "done", "76 C"):
        kitchen.types(text)
    kitchen.types("77", after_s=60)
    kitchen.types("77", after_s=60)
    kitchen.clock.forward(1100)
    assert kitchen.desk.remind() is None
    kitchen.clock.forward(120)
    told = kitchen.desk.remind()
    assert told is not None
    assert "are over" in spoken(told)


def test_talk_that_is_not_for_it_gets_no_answer_and_keeps_the_question_open(
    kitchen: Kitchen,
) -> None:
    assert kitchen.says("fourteen kilos").verdict == "ask"
    chatter = kitchen.says("the boats go out at half past seven and it looks like rain")
    assert (chatter.verdict, spoken(chatter), chatter.reason) == ("refuse", "", "chatter")
    assert kitchen.says("the first one").verdict == "take"


def test_a_refused_fruit_holds_up_the_weight_that_came_with_it(kitchen: Kitchen) -> None:
    # FDA/CFSAN Approximate pH of Foods: figs 5.05 to 5.98, low-acid
    turn = kitchen.types("2 kg of figs")
    assert "low in acid" in spoken(turn)
    assert turn.stage == "weigh"
    assert [event.kind for event in turn.events] == ["choose"]
    assert kitchen.desk.in_hand().last("fruit") is None
    assert kitchen.stored() == 2


def test_a_batch_in_hand_is_not_begun_anew(kitchen: Kitchen) -> None:
    turn = kitchen.types("start a batch")
    assert "begun already" in spoken(turn)
    assert kitchen.stored() == 1


def test_what_can_be_said_comes_from_the_grammar(kitchen: Kitchen) -> None:
    told = kitchen.types("what can I say")
    assert "You can say" in spoken(told)
    assert kitchen.desk.expected()
    for _ in range(2):
        assert spoken(kitchen.types("say that again")) == spoken(told)
    after = kitchen.types("where are we")
    assert spoken(kitchen.types("say that again")) == spoken(after) != spoken(told)


def test_how_the_voice_speaks_is_no_part_of_the_batch(kitchen: Kitchen) -> None:
    kitchen.types("2 kg of raspberries")
    before = kitchen.types("where are we")
    turn = kitchen.types("speak slower")
    assert [event.meaning() for event in turn.events] == [{"kind": "manner", "how": "slower"}]
    assert "no voice here" in spoken(turn)
    assert kitchen.stored() == 4
    assert spoken(kitchen.types("say that again")) == spoken(before)


def test_a_weight_that_comes_too_late_does_not_change_the_fruit(kitchen: Kitchen) -> None:
    kitchen.types("2 kg of raspberries")
    turn = kitchen.types("1 kg of blackcurrants")
    assert kitchen.desk.in_hand().fruit == "raspberry"
    assert turn.events == ()
    assert "More fruit" in spoken(turn)
    kitchen.types("no")
    assert kitchen.desk.in_hand().fruit == "raspberry"
