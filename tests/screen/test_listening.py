"""A page's microphone: blocks in, words out, on a thread of its own."""

import threading
from collections.abc import Iterator

import numpy as np
import pytest

from assistant.hear.audio import to_pcm16
from assistant.hear.heard import EngineName, Heard, Samples
from assistant.screen.hearing import Listening, TooMuchSound

BLOCK = np.full(1024, 0.25, dtype=np.float32)


class CountingEars:
    """Ears that hear how much sound there was, and how loud, when the stream ends."""

    name: EngineName = "scripted"
    why = "made up"

    def expect(self, phrases: tuple[str, ...]) -> None:
        """Nothing changes."""

    def hear(self, samples: Samples) -> list[Heard]:
        return list(self.listen(iter([samples])))

    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        got = list(blocks)
        loud = sum(1 for block in got if np.any(block))
        yield Heard.typed(f"{len(got)} blocks, {loud} loud")


class BrokenEars(CountingEars):
    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        next(blocks)
        raise RuntimeError("out of memory")
        yield  # pragma: no cover


class Ear:
    """A microphone with what came of it."""

    def __init__(self, ears: CountingEars) -> None:
        self.heard: list[str] = []
        self.fault: list[Exception | None] = []
        self.deaf = False
        self.over = threading.Event()
        self.listening = Listening(
            ears, lambda h: self.heard.append(h.text), lambda: self.deaf, self._end
        )

    def _end(self, fault: Exception | None) -> None:
        self.fault.append(fault)
        self.over.set()


def test_every_block_is_heard_and_the_end_is_told() -> None:
    ear = Ear(CountingEars())
    assert ear.listening.feed(to_pcm16(BLOCK)) == pytest.approx(0.064)
    ear.listening.feed(to_pcm16(BLOCK) + b"x")
    ear.listening.end()
    assert ear.over.wait(5)
    assert ear.heard == ["2 blocks, 2 loud"]
    assert ear.fault == [None]


def test_it_is_deaf_while_an_answer_sounds() -> None:
    ear = Ear(CountingEars())
    for deaf in (False, True, True, False):
        ear.deaf = deaf
        ear.listening.feed(to_pcm16(BLOCK))
    ear.listening.end()
    assert ear.over.wait(5)
    assert ear.heard == ["4 blocks, 2 loud"]


def test_a_network_that_falls_silent_ends_what_was_being_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("assistant.screen.hearing._LULL_S", 0.05)
    ear = Ear(CountingEars())
    ear.listening.feed(to_pcm16(BLOCK))
    assert not ear.over.wait(0.2)
    ear.listening.end()
    assert ear.over.wait(5)
    blocks, loud = ear.heard[0].split(" blocks, ")
    assert int(blocks) >= 2
    assert loud == "1 loud"


def test_two_microphones_share_the_ears() -> None:
    ears = CountingEars()
    one, other = Ear(ears), Ear(ears)
    one.listening.feed(to_pcm16(BLOCK))
    for ear in (one, other):
        ear.listening.end()
        assert ear.over.wait(5)
    assert (one.heard, other.heard) == (["1 blocks, 1 loud"], ["0 blocks, 0 loud"])


def test_ears_that_break_are_told_of() -> None:
    ear = Ear(BrokenEars())
    ear.listening.feed(to_pcm16(BLOCK))
    assert ear.over.wait(5)
    assert str(ear.fault[0]) == "out of memory"


def test_a_block_too_long_is_no_microphone() -> None:
    ear = Ear(CountingEars())
    with pytest.raises(TooMuchSound):
        ear.listening.feed(bytes(40_000))
    ear.listening.end()
    assert ear.over.wait(5)
