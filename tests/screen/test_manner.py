"""Slower, louder and quiet on the page: the voice changes there as at the microphone."""

from itertools import count
from pathlib import Path

import pytest
from room_maker import START, spoken

from assistant.base.clock import SetClock
from assistant.keep import Journal
from assistant.say.manner import Manners
from assistant.say.voice import SilentVoice
from assistant.screen.house import House
from assistant.screen.speech import Speech
from assistant.turns.utterance import Utterance

_IDS = count()


class Adjusted(SilentVoice):
    """A silent voice that can be set."""

    rate, volume = 165, 1.0


async def house_of(folder: Path, voice: Adjusted) -> House:
    journal, clock = Journal(folder / "journal.sqlite"), SetClock(START)
    house = House(journal, clock, Speech(voice, Manners(voice)))
    await house.begin("berry-syrup", "", "wish-0001")
    return house


async def sound(house: House, text: str) -> tuple[str, str]:
    """What is shown, and the name of its sound."""
    outcome = await house.say(Utterance(heard=spoken(text), id=f"{next(_IDS)}", device="a"))
    message = house.turn_message(outcome)
    return " ".join(message["show"]), message["sound"]


@pytest.mark.anyio
async def test_the_voice_is_changed_and_says_so(tmp_path: Path) -> None:
    voice = Adjusted()
    house = await house_of(tmp_path, voice)
    shown, name = await sound(house, "slower")
    assert voice.rate < 165
    assert "no voice" not in shown
    assert name
    await sound(house, "louder")
    assert voice.volume > 1


@pytest.mark.anyio
async def test_the_same_words_are_said_anew_after_a_change(tmp_path: Path) -> None:
    house = await house_of(tmp_path, Adjusted())
    told, before = await sound(house, "where are we")
    _, same = await sound(house, "where are we")
    await sound(house, "faster")
    again, after = await sound(house, "where are we")
    assert (told, before) == (again, same)
    assert after not in ("", before)


@pytest.mark.anyio
async def test_quiet_is_quiet_until_it_may_speak_again(tmp_path: Path) -> None:
    house = await house_of(tmp_path, Adjusted())
    _, after_quiet = await sound(house, "be quiet")
    _, asked = await sound(house, "where are we")
    _, again = await sound(house, "speak again")
    assert (after_quiet, asked) == ("", "")
    assert again


def test_what_stops_a_batch_is_said_all_the_same() -> None:
    voice = Adjusted()
    manners = Manners(voice)
    manners.change("quiet")
    assert Speech(voice, manners).name("Throw it away.", limit=True)
    assert Speech(voice, manners).name("Done.") == ""
