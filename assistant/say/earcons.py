"""Short quiet sounds in place of words: heard, not heard, a question, a limit, time is up.

Each is a few strokes, told apart by how many there are, how long and how even, so that nobody needs
an ear for pitch: heard is one short stroke, not heard two short dull ones, a question a long one
that swells, a limit three even ones, a timer two pairs. They are reckoned at first use.
"""

from dataclasses import dataclass
from functools import cache
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from assistant.say.voice import Speech

EarconName = Literal["heard", "not_heard", "question", "limit", "timer"]
NAMES: tuple[EarconName, ...] = get_args(EarconName)
RATE = 22_050
LOUDEST = 0.12
"""Against full scale: a good deal softer than the voice."""
LONGEST = 0.9
"""[s]"""
_EDGE = 0.006
"""Longest rise of a stroke, so that it does not click. [s]"""


@dataclass(frozen=True)
class Stroke:
    """One stroke.

    start, length : [s]
    pitch : [Hz]
    dull : how fast the overtones fall; 1 is bright, 3 is nearly a plain tone [-]
    swells : grows to its end instead of dying away
    """

    start: float
    length: float
    pitch: float
    dull: float = 2.0
    swells: bool = False


_STROKES: dict[EarconName, tuple[Stroke, ...]] = {
    "heard": (Stroke(0.0, 0.09, 620.0),),
    "not_heard": (Stroke(0.0, 0.07, 210.0, 3.0), Stroke(0.13, 0.07, 210.0, 3.0)),
    "question": (Stroke(0.0, 0.38, 430.0, 2.0, swells=True),),
    "limit": tuple(Stroke(0.22 * n, 0.16, 330.0, 1.0) for n in range(3)),
    "timer": tuple(Stroke(at, 0.08, 830.0, 1.5) for at in (0.0, 0.12, 0.5, 0.62)),
}


@cache
def earcon(name: EarconName) -> Speech:
    """The sound, mono at `RATE`.

    >>> len(earcon("heard")) / RATE < LONGEST
    True
    """
    strokes = _STROKES[name]
    sound = np.zeros(round(max(s.start + s.length for s in strokes) * RATE))
    for stroke in strokes:
        begin, made = round(stroke.start * RATE), _made(stroke)
        sound[begin : begin + len(made)] += made[: len(sound) - begin]
    sound *= LOUDEST / np.max(np.abs(sound))
    return np.round(sound * 32767).astype(np.int16)


def _made(stroke: Stroke) -> NDArray[np.float64]:
    """One stroke: a tone with overtones a little out of tune, under a soft envelope."""
    time = np.arange(round(stroke.length * RATE)) / RATE
    parts = (1.0, 2.01, 3.03)
    tone = sum(np.sin(2 * np.pi * stroke.pitch * p * time) / p**stroke.dull for p in parts)
    share = time / stroke.length
    shape = share**1.5 if stroke.swells else np.exp(-4.0 * share)
    edges = np.clip(np.minimum(time, stroke.length - time) / _EDGE, 0.0, 1.0)
    return np.asarray(tone * shape * edges)


def before(sound: Speech, rate: int, name: EarconName) -> Speech:
    """An earcon and, a breath later, what follows it, at the rate of the latter [Hz]."""
    mark = earcon(name)
    times = np.arange(round(len(mark) * rate / RATE)) / rate
    same = np.interp(times, np.arange(len(mark)) / RATE, mark).astype(np.int16)
    breath = np.zeros(round(0.06 * rate), np.int16) if len(sound) else np.zeros(0, np.int16)
    return np.concatenate([same, breath, sound])
