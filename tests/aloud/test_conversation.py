"""Talking: sound in, speech out, with doubles for ears, voice and loudspeaker."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
from desk_maker import begun

from assistant.aloud.called import Called
from assistant.aloud.conversation import Conversation
from assistant.aloud.voicing import Voicing
from assistant.base.clock import SetClock
from assistant.hear.heard import Heard, Samples
from assistant.keep import Journal
from assistant.say.earcons import NAMES, EarconName, earcon
from assistant.say.manner import Manners
from assistant.say.player import RecordingPlayer
from assistant.say.speaker import Speaker
from assistant.say.voice import SilentVoice, Speech
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown, spoken
from assistant.turns.turn import Turn

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
LOUD = np.ones(160, np.float32)


class TellingEars:
    """Ears that hear one line for each block of sound, and remember what they were sent."""

    name = "scripted"
    why = "a double"

    def __init__(self, *lines: Heard) -> None:
        self.lines = list(lines)
        self.sent: list[Samples] = []
        self.expected: list[tuple[str, ...]] = []

    def expect(self, phrases: tuple[str, ...]) -> None:
        self.expected.append(phrases)

    def hear(self, samples: Samples) -> list[Heard]:
        raise NotImplementedError

    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        for block in blocks:
            self.sent.append(block)
            if self.lines and block.any():
                yield self.lines.pop(0)


class Quick(RecordingPlayer):
    """A loudspeaker that has always just finished."""

    def is_playing(self) -> bool:
        return False


class Talkative(RecordingPlayer):
    """A loudspeaker that sounds for a few blocks after each sentence."""

    sounding = 0

    def play(self, samples: object, rate: int) -> None:
        super().play(samples, rate)  # type: ignore[arg-type]
        self.sounding = 3

    def is_playing(self) -> bool:
        self.sounding = max(0, self.sounding - 1)
        return self.sounding > 0


def _talk(
    tmp_path: Path, ears: TellingEars, player: RecordingPlayer, blocks: int = 30
) -> tuple[list[Turn], SilentVoice, Desk]:
    clock = SetClock(START)
    journal = Journal(tmp_path / "journal.sqlite")
    desk = begun(journal, clock)
    voice, turns = SilentVoice(), []

    def sound() -> Iterator[Samples]:
        for _ in range(blocks):
            clock.forward(30)
            yield LOUD

    Conversation(desk, ears, Speaker(voice, player), turns.append).run(sound())
    return turns, voice, desk


def test_every_turn_is_shown_and_said(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("2 kg of raspberries"), Heard.typed("done"))
    player = Quick()
    turns, _, desk = _talk(tmp_path, ears, player)
    assert [t.stage for t in turns] == ["weigh", "crush", "water"]
    assert len(player.played) == 3
    assert desk.in_hand().fruit == "raspberry"


def test_our_own_voice_is_not_sent_to_the_ears(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("2 kg"))
    _talk(tmp_path, ears, Talkative())
    assert any(not block.any() for block in ears.sent)
    assert any(block.any() for block in ears.sent)
    assert not ears.sent[0].any(), "the greeting sounds first"


def test_stop_ends_the_talk(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("2 kg"), Heard.typed("stop"), Heard.typed("done"))
    turns, _, _ = _talk(tmp_path, ears, Quick())
    assert turns[-1].ended
    assert len(ears.lines) == 1


def test_partial_words_are_shown_and_not_acted_upon(tmp_path: Path) -> None:
    partial = Heard(text="two", guesses=(), sure=0.0, engine="scripted", partial=True)
    turns, _, desk = _talk(tmp_path, TellingEars(partial), Quick())
    assert len(turns) == 1
    assert desk.in_hand().taken == ()


def test_the_ears_are_told_once_what_may_be_said(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("2 kg"), Heard.typed("how much sugar"))
    _talk(tmp_path, ears, Quick())
    (phrases,) = ears.expected
    assert {"seventy", "blackcurrants", "[unk]"} <= set(phrases)


def test_a_timer_is_heard_between_utterances(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("set a timer for one minute"))
    turns, _, _ = _talk(tmp_path, ears, Quick())
    assert sum("Time is up" in spoken(t) for t in turns) == 1


class Heeding(SilentVoice):
    """A silent voice whose speed and volume can be set."""

    rate = 165
    volume = 1.0


def _voiced(
    tmp_path: Path, *said: str, earcons: bool = True, name: str = ""
) -> tuple[list[Turn], list[str], list[str]]:
    """The turns, the words said, and the short sounds made (\"\" for none)."""
    desk = begun(Journal(tmp_path / "journal.sqlite"), SetClock(START))
    voice, player, turns = Heeding(rate=22_050), Quick(), list[Turn]()
    speaker = Speaker(voice, player)
    ears = TellingEars(*(Heard.typed(text) for text in said))
    Conversation(
        desk,
        ears,
        speaker,
        turns.append,
        voicing=Voicing(speaker, Manners(voice), earcons),
        called=Called(name),
    ).run(LOUD for _ in said)
    return turns, voice.said, [_begins(samples) for samples, _ in player.played]


def _begins(samples: Speech) -> EarconName | str:
    return next((n for n in NAMES if np.array_equal(samples[: len(earcon(n))], earcon(n))), "")


def test_each_kind_of_answer_has_its_sound(tmp_path: Path) -> None:
    said = ("2 kg of raspberries", "the canoe needs paint", "throw it away", "ph 5.1")
    _, _, sounds = _voiced(tmp_path, *said)
    assert sounds == ["", "heard", "not_heard", "question", "limit"]


def test_the_sounds_can_be_left_out(tmp_path: Path) -> None:
    _, words, sounds = _voiced(tmp_path, "2 kg of raspberries", "throw it away", earcons=False)
    assert sounds == ["", "", ""]
    assert all(words)


def test_quiet_leaves_the_sounds_until_it_may_speak_again(tmp_path: Path) -> None:
    said = ("be quiet", "2 kg of raspberries", "speak again", "where are we")
    turns, words, sounds = _voiced(tmp_path, *said)
    assert [bool(w) for w in words] == [True, False, False, True, True]
    assert sounds == ["", "heard", "heard", "heard", "heard"]
    assert all(shown(turn) for turn in turns), "what is not said is shown"


def test_a_limit_is_said_even_when_quiet(tmp_path: Path) -> None:
    # 21 CFR 114.3: pH 4.6
    _, words, sounds = _voiced(tmp_path, "be quiet", "2 kg", "ph 5.1")
    assert sounds[-1] == "limit"
    assert words[-1]


def test_how_it_speaks_is_answered_in_the_new_manner(tmp_path: Path) -> None:
    turns, words, _ = _voiced(tmp_path, "slower")
    assert words[-1] == "Slower from now on."
    assert shown(turns[-1]) == ("Slower from now on.",)


def test_a_name_leaves_other_talk_alone(tmp_path: Path) -> None:
    said = ("marigold 2 kg of raspberries", "done", "pass me that")
    turns, _, _ = _voiced(tmp_path, *said, name="Marigold")
    assert [turn.heard for turn in turns][:3] == ["", "2 kg of raspberries", "done"]


def test_only_the_name_is_answered_with_a_sound(tmp_path: Path) -> None:
    turns, words, sounds = _voiced(tmp_path, "Marigold", name="Marigold")
    assert len(turns) == 1
    assert words[-1] == ""
    assert sounds[-1] == "question"
