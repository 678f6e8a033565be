"""What the ears get while our own voice sounds, with the real voice and echo canceller in a
simulated kitchen."""

import sys
from collections.abc import Iterator

import numpy as np
import pytest
from rooms import ROOMS, Kitchen, Walls, level
from sounds import (
    fan,
    segments,
)

from assistant.aloud.attention import Attention
from assistant.base.data import folder
from assistant.base.errors import EarsMissing
from assistant.hear.audio import read_recording
from assistant.hear.heard import SAMPLE_RATE, Heard, Samples
from assistant.hear.over_voice import OverVoice
from assistant.hear.whisper_ears import WhisperEars
from assistant.say.speaker import Speaker
from assistant.say.voice import EspeakVoice

REPLY = (
    "Crush the fruit with six hundred grams of sugar. Four hundred and eighty grams follow later, "
    "when the juice is strained and measured, so keep them by."
)
COOK = read_recording(
    folder("audio_fixtures").joinpath("demo/01_two_point_four_kilos_of_blackcurrants.flac")
)[SAMPLE_RATE // 4 :]


class Room(Kitchen):
    """A kitchen with everything wired up."""

    def __init__(self, walls: Walls, seed: int = 1, over: bool = True) -> None:
        super().__init__(walls, seed)
        self.speaker = Speaker(EspeakVoice(), self)
        self.attention = Attention(self.speaker, self.at, OverVoice() if over else None)

    def attended(self, seconds: float) -> Samples:
        """What the ears get in so much time."""
        return np.concatenate([*self.heard(seconds)])

    def heard(self, seconds: float) -> Iterator[Samples]:
        for block in self.blocks(seconds):
            yield from self.attention.attend(block)

    def ours(self) -> float:
        samples, _ = self.speaker._voice.to_samples(REPLY)
        return level(samples.astype(np.float32) / 32768) * 10 ** (self._walls.level / 20)


@pytest.mark.parametrize("name", sorted(ROOMS))
def test_our_own_voice_alone_neither_stops_nor_reaches_the_ears(name: str) -> None:
    room = Room(ROOMS[name])
    room.speaker.say(REPLY)
    got = room.attended(10.2)
    assert room.stops == []
    assert not room.is_playing()
    assert segments(got) == []


def test_without_the_canceller_our_voice_does_reach_the_microphone() -> None:
    """Or the test above would prove nothing."""
    room = Room(ROOMS["kitchen"])
    room.speaker.say(REPLY)
    assert segments(np.concatenate([*room.blocks(9.5)]))


def test_a_fan_does_not_stop_our_voice() -> None:
    room = Room(ROOMS["kitchen"])
    room.says(fan(6.0, 0.05))
    room.speaker.say(REPLY)
    list(room.heard(6.0))
    assert room.stops == []


NAMES = ["kitchen", "loud", "by the fan"]


@pytest.mark.parametrize("name", NAMES)
def test_the_cook_speaking_over_it_stops_it(name: str) -> None:
    room, got = spoken_over(name, 10.0)
    assert len(room.stops) == 1
    assert room.stops[0] < 3.0 + len(COOK) / SAMPLE_RATE
    assert segments(got)


def test_half_as_loud_it_is_stopped_mostly() -> None:
    """espeak never says a sentence twice alike, and 5 dB over the echo is near what can be told."""
    stops = [len(spoken_over(name, 5.0)[0].stops) for name in NAMES]
    assert max(stops) == 1
    assert sum(stops) >= 2


def spoken_over(name: str, decibels: float) -> tuple[Room, Samples]:
    """A room in which the cook speaks over our voice, and what the ears got of it."""
    room = Room(ROOMS[name])
    room.speaker.say(REPLY)
    list(room.heard(3.0))
    room.says((COOK * room.ours() / level(COOK) * 10 ** (decibels / 20)).astype(np.float32))
    return room, room.attended(len(COOK) / SAMPLE_RATE + 1.5)


def test_what_was_said_over_our_voice_is_not_believed_at_once() -> None:
    room = Room(ROOMS["kitchen"])
    heard = Heard(text="60", guesses=(), sure=0.9, engine="whisper")
    assert room.attention.believed(heard) == heard
    room.speaker.say(REPLY)
    list(room.heard(3.0))
    room.says((COOK * room.ours() / level(COOK) * 3).astype(np.float32))
    list(room.heard(4.0))
    partial = heard.model_copy(update={"partial": True})
    assert room.attention.believed(partial) == partial
    assert room.attention.believed(heard).sure == 0.0
    assert room.attention.believed(heard) == heard, "only the utterance that was spoken over it"


@pytest.mark.audio
def test_what_was_said_over_our_voice_is_heard_from_its_beginning(
    whisper_ears: WhisperEars,
) -> None:
    room = Room(ROOMS["kitchen"])

    def blocks() -> Iterator[Samples]:
        room.speaker.say(REPLY)
        yield from room.heard(3.0)
        room.says((COOK * room.ours() / level(COOK) * 3).astype(np.float32))
        yield from room.heard(4.0)

    texts = [heard.text.lower() for heard in whisper_ears.listen(blocks())]
    assert len(texts) == 1
    assert texts[0].startswith(("two", "2"))
    assert "kilos" in texts[0]


def test_the_next_sentence_is_listened_over_afresh() -> None:
    room = Room(ROOMS["kitchen"])
    for _ in range(2):
        room.speaker.say(REPLY)
        start = room.now
        list(room.heard(3.0))
        room.says((COOK * room.ours() / level(COOK) * 2).astype(np.float32))
        list(room.heard(4.0))
        assert room.stops[-1] > start
    assert len(room.stops) == 2


def test_sound_from_before_the_reply_is_heard_as_it_is() -> None:
    """Blocks that waited while the ears were busy are older than the voice."""
    room = Room(ROOMS["kitchen"])
    room.says(COOK)
    waiting, times = [], []
    for block in room.blocks(1.0):
        waiting.append(block)
        times.append(room.at())
    room.speaker.say(REPLY)
    next(iter(room.blocks(1.0)))
    told = iter(times)
    room.attention = Attention(room.speaker, lambda: next(told), OverVoice())
    got = [sound for block in waiting for sound in room.attention.attend(block)]
    assert np.array_equal(np.concatenate(got), np.concatenate(waiting))


def test_without_a_canceller_the_ears_get_silence_while_it_sounds() -> None:
    room = Room(ROOMS["kitchen"], over=False)
    room.says(COOK)
    room.speaker.say(REPLY)
    assert not room.attended(2.0).any()
    assert room.stops == []


def test_a_missing_canceller_is_told_in_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pywebrtc_audio", None)
    with pytest.raises(EarsMissing, match="reinstall pywebrtc-audio"):
        OverVoice()
