"""A voice at a loudspeaker."""

import threading
from pathlib import Path

import numpy as np

from assistant.say.player import Player, RecordingPlayer
from assistant.say.speaker import Speaker
from assistant.say.voice import EspeakVoice, SilentVoice, Speech


class SlowVoice:
    """A voice that works on its first text until it is told to go on."""

    name = "slow"

    def __init__(self) -> None:
        self.working = threading.Event()
        self.go_on = threading.Event()

    def to_samples(self, text: str) -> tuple[Speech, int]:
        if text == "first":
            self.working.set()
            self.go_on.wait(timeout=60)
        return np.full(10, len(text), np.int16), 8000

    def write(self, text: str, path: str | Path) -> None:
        raise NotImplementedError


def test_a_new_sentence_breaks_the_old_one_off() -> None:
    player = RecordingPlayer()
    speaker = Speaker(SilentVoice(), player)
    speaker.say("one")
    assert speaker.is_speaking()
    speaker.say("two words")
    assert player.stops == 2
    assert [len(samples) for samples, _ in player.played] == [2400, 4800]
    speaker.hush()
    assert not speaker.is_speaking()


def test_the_last_to_speak_is_heard() -> None:
    voice, player = SlowVoice(), RecordingPlayer()
    speaker = Speaker(voice, player)
    first = threading.Thread(target=speaker.say, args=("first",))
    first.start()
    assert voice.working.wait(timeout=60)
    speaker.say("the second")
    voice.go_on.set()
    first.join(timeout=60)
    assert [samples[0] for samples, _ in player.played] == [len("the second")]


def test_hush_also_stops_what_has_not_begun() -> None:
    voice, player = SlowVoice(), RecordingPlayer()
    speaker = Speaker(voice, player)
    first = threading.Thread(target=speaker.say, args=("first",))
    first.start()
    assert voice.working.wait(timeout=60)
    speaker.hush()
    voice.go_on.set()
    first.join(timeout=60)
    assert player.played == []


def test_a_real_voice_at_a_real_player() -> None:
    speaker = Speaker(EspeakVoice(rate=300), Player(backend="NULL"))
    speaker.say("Take it off the heat and let it cool for a good long while.")
    assert speaker.is_speaking()
    speaker.say("Stir.")
    assert speaker.wait(timeout=60)
    assert not speaker.is_speaking()
    speaker.close()
