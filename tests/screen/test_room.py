"""A room: every message counts once, and two people do not skip a stage between them."""

from datetime import timedelta
from pathlib import Path

import pytest
from desk_maker import resumed, types
from room_maker import START, TO_THE_HEAT, Tent

from assistant.keep import Journal
from assistant.turns.arriving import OLDEST_S, TWIN_S
from assistant.turns.rendering import spoken


@pytest.fixture
def tent(tmp_path: Path) -> Tent:
    return Tent(tmp_path)


def test_a_message_sent_again_counts_once(tent: Tent) -> None:
    tent.types("2 kg of raspberries", id="message-1")
    written = tent.events()
    again = tent.types("2 kg of raspberries", id="message-1")
    assert again.again
    assert again.verdict == "take"
    assert tent.events() == written


def test_a_message_sent_again_after_a_crash_counts_once(tent: Tent) -> None:
    tent.types("2 kg of raspberries", id="message-1")
    tent.types("done", id="message-2")
    written, stage = tent.events(), tent.stage
    tent.reopen()
    assert tent.types("done", id="message-2").again
    assert (tent.events(), tent.stage) == (written, stage)
    assert not tent.types("done", id="message-3").again


def test_the_id_is_written_with_the_events_or_not_at_all(tent: Tent) -> None:
    tent.types("the canoe needs paint", id="message-1")
    assert not tent.journal.has_mark(tent.id, "message-1")
    tent.types("2 kg of raspberries", id="message-2")
    assert tent.journal.has_mark(tent.id, "message-2")


def test_done_for_a_stage_that_is_over_is_held_back(tent: Tent) -> None:
    tent.all(["2 kg of raspberries"])
    assert tent.types("done", stage="crush").verdict == "take"
    late = tent.types("done", device="b", stage="crush")
    assert late.verdict == "late"
    assert "water" in " ".join(late.show)
    assert tent.stage == "water"


def test_a_word_spoken_while_another_finished_the_stage_is_held_back(tent: Tent) -> None:
    tent.all(["2 kg of raspberries"])
    tent.says("done", device="a")
    assert tent.says("that's in", device="b", after_s=TWIN_S - 1).verdict == "late"
    assert tent.stage == "water"
    assert tent.says("that's in", device="b", after_s=TWIN_S).verdict == "take"


def test_one_person_before_two_microphones_is_heard_once(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    assert tent.says("fifty eight degrees", device="a").verdict == "take"
    written = tent.events()
    assert tent.says("Fifty eight degrees.", device="b", after_s=1).verdict == "twice"
    assert tent.events() == written
    assert tent.says("sixty one degrees", device="b", after_s=1).verdict == "take"


def test_a_second_reading_from_the_same_microphone_counts(tent: Tent) -> None:
    """The pan did not change, and the cook says so at once: that is no echo of the first."""
    tent.all(TO_THE_HEAT)
    for number in (1, 2):
        assert tent.says("fifty eight degrees", after_s=TWIN_S - 1).verdict == "take", number
    readings = [e for e in tent.journal.events(tent.id) if e.heard == "fifty eight degrees"]
    assert len(readings) == 2


def test_the_same_words_much_later_through_another_microphone_count(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    assert tent.says("fifty eight degrees", device="a").verdict == "take"
    assert tent.says("58 degrees", device="b", after_s=TWIN_S - 1).verdict == "twice"
    assert tent.says("fifty eight degrees", device="c", after_s=TWIN_S).verdict == "take"


def test_words_that_waited_count_from_when_they_were_said(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    tent.types("48 degrees", age_s=10, after_s=100)
    reading = tent.journal.events(tent.id)[-1]
    assert reading.at == tent.clock.now() - timedelta(seconds=10)


def test_words_that_waited_never_come_before_what_was_written(tent: Tent) -> None:
    """A hold that had run backwards would count time that never was."""
    tent.all(TO_THE_HEAT)
    last = tent.journal.events(tent.id)[-1].at
    tent.types("48 degrees", age_s=1000)
    assert tent.journal.events(tent.id)[-1].at == last


def test_words_that_waited_too_long_are_not_taken(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    written = tent.events()
    assert tent.types("48 degrees", age_s=OLDEST_S + 1).verdict == "late"
    assert tent.events() == written


def test_what_another_program_wrote_is_taken_in(tent: Tent, tmp_path: Path) -> None:
    tent.all(["2 kg of raspberries"])
    with Journal(tmp_path / "journal.sqlite") as other:
        chat = resumed(tent.id, other, tent.clock)
        assert "Do you want to join in?" in spoken(chat.greet())
        types(chat, "yes")
        types(chat, "done")
        lost = tent.types("water is in")
        assert (lost.verdict, lost.yes_no) == ("ask", True)
        assert "I have not taken “water is in”" in lost.say
        assert tent.types("yes").verdict == "take"
        assert "took this batch over" in spoken(types(chat, "done"))
    assert tent.stage == "water"
    view = tent.view()
    assert view.revision == tent.events()
    assert [said.heard for said in view.said][:3] == ["2 kg of raspberries", "done", "water is in"]
    assert tent.types("done").verdict == "take"
    assert tent.stage == "heat"


def test_the_talk_is_the_same_after_a_restart(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "58 C", "no, 59", "scratch that", "how much sugar"])
    before = tent.view()
    tent.reopen()
    after = tent.view()
    assert after.model_dump(exclude={"slip"}) == before.model_dump(exclude={"slip"})


def test_what_is_said_for_another_batch_reaches_it(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    begun = tent.types("start a batch of rhubarb syrup")
    other = begun.turn.batch
    assert other != tent.id
    outcome = tent.types("for the rhubarb, 3 kg", stage="heat")
    assert (outcome.turn.batch, outcome.verdict) == (other, "take")
    assert outcome.show[0] == "rhubarb: 3 kg."
    assert tent.room.view(other).said[-1].heard == "three kilos"
    assert tent.view().said[-1].heard == "done"
    assert tent.types("58 C", stage="heat").turn.batch == tent.id


def test_a_batch_that_has_ended_is_cleared_away_when_nobody_looks(tent: Tent) -> None:
    tent.room.put_away(tent.id)
    assert [batch.id for batch in tent.room.desk.batches] == [tent.id], "it is under way"
    tent.all(["2 kg of raspberries"])
    assert tent.types("throw it away").verdict == "ask"
    assert tent.types("yes").verdict == "take"
    tent.room.put_away(tent.id)
    assert tent.room.desk.batches == ()


def test_chatter_is_not_kept(tent: Tent) -> None:
    outcome = tent.says("did you see the regatta on sunday")
    assert outcome.verdict == "refuse"
    assert outcome.private
    assert tent.view().said == ()


def test_a_question_back_can_be_answered_with_a_tap(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    tent.types("58 C")
    asked = tent.says("seventy six degrees")
    assert (asked.verdict, asked.yes_no) == ("ask", True)
    open_ = tent.view().said[-1]
    assert (open_.verdict, open_.yes_no) == ("ask", True), "whoever comes in later sees it too"
    assert tent.types("yes").verdict == "take"
    assert tent.stage == "hold"


def test_a_timer_is_told_once(tent: Tent) -> None:
    tent.all(["2 kg of raspberries", "set a timer for ten minutes"])
    assert tent.room.remind() is None
    tent.clock.forward(600)
    told = tent.room.remind()
    assert told is not None
    assert told.show
    assert tent.room.remind() is None
    assert tent.view().said[-1].verdict == "reminder"


def test_leaving_ends_the_journal_in_good_order_once(tent: Tent) -> None:
    tent.room.leave()
    assert tent.events() == 1, "nobody had worked on it"
    tent.all(["2 kg of raspberries"])
    tent.room.leave()
    tent.room.leave()
    assert [e.kind for e in tent.journal.events(tent.id)][-2:] == ["reading", "stop"]
    assert tent.journal.events(tent.id)[0].at == START


def test_what_another_kitchen_does_is_followed(tent: Tent, tmp_path: Path) -> None:
    tent.all(["2 kg of raspberries"])
    assert not tent.room.follow()
    tent.journal.release(tent.id)
    with Journal(tmp_path / "journal.sqlite") as other:
        types(resumed(tent.id, other, tent.clock), "done")
        assert tent.room.follow()
        assert not tent.room.follow()
    view = tent.view()
    assert tent.stage == "water"
    assert view.revision == tent.events()
    assert [said.heard for said in view.said] == ["2 kg of raspberries", "done"]
