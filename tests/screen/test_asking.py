"""An open question on every page: its words, and answers that may be tapped."""

from pathlib import Path

import pytest
from room_maker import TO_THE_HEAT, Tent

from assistant.hear.heard import Guess, Heard
from assistant.turns.utterance import Utterance


@pytest.fixture
def tent(tmp_path: Path) -> Tent:
    return Tent(tmp_path)


def unsure(tent: Tent, *texts: str) -> None:
    """Words that could be either, by the recogniser's own account."""
    tent.clock.forward(20)
    guesses = tuple(Guess(text=text, share=0.5 - 0.02 * n) for n, text in enumerate(texts))
    heard = Heard(text=texts[0], guesses=guesses, sure=0.5, engine="scripted")
    said = Utterance(heard=heard, id="unsure-1", device="a", batch=tent.id)
    assert tent.room.take(said).verdict == "ask"


def test_candidates_are_tapped_on_any_device(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    unsure(tent, "seventeen degrees", "seventy degrees")
    panel = tent.view().panel
    assert (panel.state, panel.instruction) == ("question", "17 or 70?")
    assert [tap.words for tap in panel.control.taps] == ["17 °C", "70 °C", "None of these"]
    assert tent.types(panel.control.taps[1].says, device="b").verdict == "take"
    panel = tent.view().panel
    assert (panel.state, panel.number) == ("measure", "70")


def test_a_question_does_not_hide_a_pan_that_is_too_hot(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "88 C"])
    unsure(tent, "seventeen degrees", "seventy degrees")
    panel = tent.view().panel
    assert (panel.state, panel.number) == ("hot", "88")
    assert panel.instruction == "Take it off the heat. 17 or 70?"
    assert len(panel.control.taps) == 3


def test_a_strip_tells_which_batch_has_a_question(tent: Tent) -> None:
    tent.all(TO_THE_HEAT)
    unsure(tent, "seventeen degrees", "seventy degrees")
    assert [pan.state for pan in tent.view().kitchen] == ["question"]


@pytest.mark.parametrize("name", ["timer", "jars", "second timer"])
def test_the_timers_buttons_say_what_the_desk_knows(tent: Tent, name: str) -> None:
    """The words of page/timers.js."""
    tent.all(["set a timer for ten minutes", "set a timer for nine minutes",
              "set a timer called jars for eight minutes"])  # fmt: skip
    tent.all([f"set a timer called {name} for 81 seconds"])
    timers = {t.name: t.seconds for t in tent.room.desk.open(tent.id).timers}
    assert (len(timers), timers[name]) == (3, 81.0)
    tent.all([f"stop the {name} timer"])
    assert name not in {t.name for t in tent.room.desk.open(tent.id).timers}


def test_a_question_stands_on_every_page_until_it_is_answered(tent: Tent) -> None:
    asked = tent.says("seventy kilos of raspberries", device="a")
    assert asked.verdict == "ask"
    panel = tent.view().panel
    assert (panel.state, panel.instruction) == ("question", asked.show[0])
    assert [tap.says for tap in panel.control.taps] == ["the first one", "the second one", "no"]
    assert tent.types("no", device="b").turn.reason == "say_again_please"
    assert tent.view().panel.state == "measure"
