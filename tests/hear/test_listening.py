"""Recognising before the pause is over: when it is tried, thrown away, and how long is waited."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
import pytest
from numpy.typing import NDArray
from sounds import cut_up

from assistant.hear.endings import OPEN_PAUSE
from assistant.hear.heard import SAMPLE_RATE, Heard, Samples
from assistant.hear.listening import EARLY, GAP, Listening, closed_up
from assistant.hear.voice_activity import FRAME, Endpointer, Pauses, Piece, SpeechMeter, Utterance

STEP_S = FRAME / SAMPLE_RATE
NO, YES = [0.0], [1.0]


class ToldMeter(SpeechMeter):
    """A meter that calls a step speech when its first sample says so."""

    def __init__(self) -> None:
        """Load no model."""

    def __call__(self, samples: Samples) -> NDArray[np.float32]:
        return samples.reshape(-1, FRAME)[:, 0].copy()


@dataclass
class Told:
    """A listening to given probabilities, that hears the texts it is told to."""

    texts: list[str]
    pauses: Pauses = field(default_factory=Pauses)
    asked: list[Utterance] = field(default_factory=list)

    def over(self, steps: list[float], block: int = FRAME) -> list[tuple[str, int]]:
        """Each text that came out, and after how many steps of sound."""
        listening = Listening(self._recognise, self.pauses)
        listening._ends = Endpointer(self.pauses, ToldMeter())
        read = 0

        def blocks() -> Iterator[Samples]:
            nonlocal read
            for one in cut_up(np.repeat(np.array(steps, dtype=np.float32), FRAME), block):
                read += len(one) // FRAME
                yield one

        return [(heard.text, read) for heard in listening.over(blocks())]

    def _recognise(self, utterance: Utterance) -> Heard | None:
        self.asked.append(utterance)
        text = self.texts[min(len(self.asked), len(self.texts)) - 1]
        return Heard.typed(text) if text else None


SPOKEN = NO * 12 + YES * 20
PAUSE = round(Pauses().pause / STEP_S)


def test_it_is_recognised_once_and_before_the_pause_is_over() -> None:
    told = Told(["72."])
    assert told.over(SPOKEN + NO * 60) == [("72.", len(SPOKEN) + PAUSE)]
    assert len(told.asked) == 1


def test_what_goes_on_is_recognised_anew() -> None:
    told = Told(["two", "two hundred grams"])
    assert [text for text, _ in told.over(SPOKEN + NO * 14 + YES * 10 + NO * 60)] == [
        "two hundred grams"
    ]
    first, second = told.asked
    assert len(second.samples) > len(first.samples)
    assert second.start == first.start


def test_a_short_pause_is_not_even_tried() -> None:
    told = Told(["two hundred grams"])
    told.over(SPOKEN + NO * (round(EARLY / STEP_S) - 1) + YES * 10 + NO * 60)
    assert len(told.asked) == 1


def test_an_open_end_keeps_the_utterance_open() -> None:
    told = Told(["six hundred and", "six hundred and seventy five"])
    gap = NO * (PAUSE + 6)
    assert [text for text, _ in told.over(SPOKEN + gap + YES * 20 + NO * 60)] == [
        "six hundred and seventy five"
    ]


def test_an_open_end_that_stays_open_ends_too() -> None:
    told = Told(["six hundred and"])
    (_, steps), *more = told.over(SPOKEN + NO * 90)
    assert steps == len(SPOKEN) + round(OPEN_PAUSE / STEP_S)
    assert more == []


def test_the_next_utterance_waits_as_usual_again() -> None:
    told = Told(["six hundred and", "72."])
    found = told.over(SPOKEN + NO * 60 + YES * 20 + NO * 60)
    assert [text for text, _ in found] == ["six hundred and", "72."]
    assert found[1][1] == len(SPOKEN) + 60 + 20 + PAUSE


def test_nothing_heard_stays_nothing() -> None:
    told = Told([""])
    assert told.over(SPOKEN + NO * 60) == []
    assert len(told.asked) == 1


def test_what_is_cut_is_recognised_whole() -> None:
    told = Told(["a", "b"], Pauses(longest=30 * STEP_S))
    told.over(NO * 12 + YES * 12 + NO * 12 + YES * 30 + NO * 60)
    assert any(utterance.cut for utterance in told.asked)


@pytest.mark.parametrize("block", [FRAME, 7 * FRAME, 1000 * FRAME])
def test_the_sound_is_the_same_however_it_comes(block: int) -> None:
    told = Told(["72."])
    told.over(SPOKEN + NO * 60, block)
    (utterance,) = told.asked
    plain = Endpointer(Pauses(), ToldMeter())
    parts = plain.feed(np.repeat(np.array(SPOKEN + NO * 60, dtype=np.float32), FRAME))
    quiet = round(Pauses().after / STEP_S)
    assert len(utterance.samples) == len(parts[0].samples) - (PAUSE - quiet) * FRAME


def pieces_of(quiet: list[int]) -> list[Piece]:
    """Blocks of two steps, each with so many quiet steps at its end."""
    block = np.zeros(2 * FRAME, dtype=np.float32)
    return [Piece(block, 2 * FRAME * at, quiet=steps * FRAME) for at, steps in enumerate(quiet)]


def test_a_long_inner_pause_is_shortened_and_the_closing_one_kept() -> None:
    inner, closing = list(range(2, 60, 2)), list(range(2, 20, 2))
    parts = pieces_of([0, 0, *inner, 0, 0, *closing])
    kept = closed_up(parts)
    assert kept[:2] == parts[:2]
    assert kept[-len(closing) - 2 :] == parts[-len(closing) - 2 :]
    gap = len(kept) - 4 - len(closing)
    assert GAP <= gap * 2 * STEP_S <= GAP + 0.25


@pytest.mark.parametrize("quiet", [[], [0], [0, 0, 2, 4, 0], [0, 2, 4, 6, 8, 10, 12, 14, 16, 18]])
def test_short_pauses_are_left_alone(quiet: list[int]) -> None:
    parts = pieces_of(quiet)
    assert closed_up(parts) == parts
