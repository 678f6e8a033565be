"""A spoken number that two engines heard: its rivals are named, weighed once, and then judged."""

import pytest
from batch_maker import START
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.hear.heard import Guess, Heard, Leads, Rivals
from assistant.keep import Journal
from assistant.turns.desk import Desk
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance


class Weighing:
    """Ears that have weighed everything alike, or whose model fails."""

    def __init__(self, lead: float | None) -> None:
        self.lead, self.asked = lead, list[Rivals]()

    def weigh(self, heard: Heard, rivals: Rivals) -> Heard:
        self.asked.append(rivals)
        if self.lead is None:
            return heard
        by = (self.lead,) * len(rivals.others)
        leads = Leads(text=rivals.text, others=rivals.others, by=by)
        return heard.model_copy(update={"leads": leads})


@pytest.fixture
def desk() -> Desk:
    """A pan on the stove."""
    desk = begun(Journal("sqlite://"), SetClock(START))
    types(desk, "2 kg of raspberries", "done", "done")
    return desk


def says(desk: Desk, ears: Weighing, text: str) -> Turn:
    guesses = (Guess(text=text, share=0.97),)
    heard = Heard(text=text, guesses=guesses, second=guesses, sound=1, sure=0.95, engine="whisper")
    said = desk.weighed(Utterance(heard=heard), ears)  # type: ignore[arg-type]
    return desk.take(Utterance.model_validate_json(said.model_dump_json()))


@pytest.mark.parametrize(("lead", "verdict"), [(8.0, "take"), (None, "ask")])
def test_what_could_not_be_weighed_is_asked(desk: Desk, lead: float | None, verdict: str) -> None:
    ears = Weighing(lead)
    assert says(desk, ears, "forty eight degrees").verdict == verdict
    assert [each.text for each in ears.asked] == ["Forty eight degrees."]


def test_after_a_model_failed_the_number_can_be_confirmed(desk: Desk) -> None:
    says(desk, Weighing(None), "forty eight degrees")
    assert says(desk, Weighing(None), "yes").verdict == "take"
    last = desk.in_hand().last("temperature")
    assert last is not None
    assert last.base == 48


def test_the_name_of_the_batch_stays_in_what_is_weighed(desk: Desk) -> None:
    ears = Weighing(8.0)
    assert says(desk, ears, "for the raspberry, forty eight degrees").verdict == "take"
    (asked,) = ears.asked
    assert asked.whole(asked.text) == "for the raspberry Forty eight degrees."


def test_words_without_a_number_are_not_weighed(desk: Desk) -> None:
    ears = Weighing(8.0)
    says(desk, ears, "where are we")
    assert ears.asked == []
