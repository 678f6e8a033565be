"""Talking: sound in, speech out, with doubles for ears, voice and loudspeaker."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from assistant.clock import SetClock
from assistant.conversation import Conversation
from assistant.cookbook import load_recipe
from assistant.hear.heard import Heard, Samples
from assistant.keep import Journal
from assistant.say.player import RecordingPlayer
from assistant.say.speaker import Speaker
from assistant.say.voice import SilentVoice
from assistant.session import Session, Turn

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
) -> tuple[list[Turn], SilentVoice, Session]:
    clock = SetClock(START)
    journal = Journal(tmp_path / "journal.sqlite")
    session = Session.start(load_recipe("berry-syrup"), journal, clock)
    voice, turns = SilentVoice(), []

    def sound() -> Iterator[Samples]:
        for _ in range(blocks):
            clock.forward(30)
            yield LOUD

    Conversation(session, ears, Speaker(voice, player), turns.append).run(sound())
    return turns, voice, session


def test_every_turn_is_shown_and_said(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("2 kg of raspberries"), Heard.typed("done"))
    player = Quick()
    turns, _, session = _talk(tmp_path, ears, player)
    assert [t.stage for t in turns] == ["weigh", "crush", "water"]
    assert len(player.played) == 3
    assert session.batch.fruit == "raspberry"


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
    turns, _, session = _talk(tmp_path, TellingEars(partial), Quick())
    assert len(turns) == 1
    assert session.batch.taken == ()


def test_the_ears_are_told_what_may_be_said_when_it_changes(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("2 kg"), Heard.typed("how much sugar"))
    _talk(tmp_path, ears, Quick())
    assert len(ears.expected) == 2
    assert all("[unk]" in phrases for phrases in ears.expected)


def test_a_timer_is_heard_between_utterances(tmp_path: Path) -> None:
    ears = TellingEars(Heard.typed("set a timer for one minute"))
    turns, _, _ = _talk(tmp_path, ears, Quick())
    assert sum("Time is up" in t.say for t in turns) == 1
