"""The gate before every recogniser: where somebody speaks, and where an utterance ends.

Silero's model, which comes along in `weights`, says for each 32 ms how likely speech is. Silence,
a fan and a boiling pan must not get past it: a recogniser that is given noise invents numbers.
"""

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.base.errors import EarsMissing
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.published import prove

FRAME = 512
"""Samples the model looks at in one step (32 ms)."""
_CONTEXT = 64
"""Samples of the step before that the model sees again."""
_FORGETS_AFTER = 31
"""Steps of quiet (a second) after which the model forgets what came before."""
_QUIET, _STILL = 0.35, 0.05
"""Probabilities of speech below which a step is quiet, and below which it is surely no onset."""
_MODEL = "silero_vad_v6.onnx"
_SUM = "4cbf549b8326f60f80f2536d9eefeb450a9abe83365a098031c89719f1be17d2"
_MEND = "install it again with: pip install --force-reinstall --no-deps panside"


@dataclass(frozen=True)
class Pauses:
    """How speech is told from silence.

    begins : probability that must hold on average over `onset` for an utterance to begin [-]; [s]
    speech, still_speech : probability at which it goes on, and below which it pauses [-]
    pause : silence that ends an utterance; shorter ones belong to it ("one point ... two") [s]
    before, after : sound kept around the speech [s]
    longest : an utterance is cut at this length [s]

    `begins` and `onset` are measured: in 51 minutes of boiling and kitchen noise six onsets passed
    (17 at 0.70, one at 0.80), and of 448 short words ("done", "yes", "no") after 5 or 20 s of quiet
    none was lost (six at 0.80).
    """

    begins: float = 0.76
    onset: float = 0.128
    speech: float = 0.5
    still_speech: float = 0.35
    pause: float = 0.7
    before: float = 0.3
    after: float = 0.3
    longest: float = 25.0


@dataclass(frozen=True)
class Piece:
    """A stretch of an utterance, as it comes in.

    start : place of its first sample in the stream
    last : the utterance ends with it
    cut : it ended because it was too long, not because of a pause
    quiet : samples at its end that are the closing pause
    """

    samples: Samples
    start: int
    last: bool = False
    cut: bool = False
    quiet: int = 0


@dataclass(frozen=True)
class Utterance:
    """A whole utterance, with a little sound around it; `start` is its place in the stream."""

    samples: Samples
    start: int
    cut: bool = False

    @property
    def end(self) -> int:
        """Place of the first sample after it."""
        return self.start + len(self.samples)


class SpeechMeter:
    """Probability of speech, step by step, remembering what came before.

    In a long silence the model sinks: after 45 s of it the same "done" gets 0.3 that gets 0.87 at
    first. So it forgets after each second of quiet, as if the sound began anew.
    """

    def __init__(self) -> None:
        self._session = _session()
        self._before = np.zeros(_CONTEXT, dtype=np.float32)
        self._forget()

    def _forget(self) -> None:
        self._h = np.zeros((1, 1, 128), dtype=np.float32)
        self._c = np.zeros((1, 1, 128), dtype=np.float32)
        self._quiet = 0

    def __call__(self, samples: Samples) -> NDArray[np.float32]:
        """Probabilities [-] of the steps in `samples`, whose length is a multiple of FRAME."""
        steps = np.asarray(samples, dtype=np.float32).reshape(-1, FRAME)
        found: list[NDArray[np.float32]] = []
        done = 0
        while done < len(steps):
            found.append(self._run(steps[done : done + max(1, _FORGETS_AFTER - self._quiet)]))
            done += len(found[-1])
            self._mind(found[-1])
        return np.concatenate(found) if found else np.zeros(0, dtype=np.float32)

    def _mind(self, probabilities: NDArray[np.float32]) -> None:
        """Count the quiet steps at the end, and forget when they are enough."""
        loud = np.flatnonzero(probabilities >= _QUIET)
        self._quiet = (
            len(probabilities) - 1 - loud[-1] if len(loud) else (self._quiet + len(probabilities))
        )
        if self._quiet >= _FORGETS_AFTER and probabilities[-1] < _STILL:
            self._forget()

    def _run(self, steps: NDArray[np.float32]) -> NDArray[np.float32]:
        tails = np.vstack([self._before, steps[:-1, -_CONTEXT:]])
        self._before = steps[-1, -_CONTEXT:].copy()
        inputs = {"input": np.hstack([tails, steps]), "h": self._h, "c": self._c}
        probabilities, self._h, self._c = self._session.run(None, inputs)
        return np.asarray(probabilities, dtype=np.float32).reshape(-1)


def _session() -> Any:
    """The model in memory, once for all streams: it keeps nothing from one step to the next."""
    model = detector()
    try:
        return _opened(model)
    except Exception as broken:  # onnxruntime is missing, or raises exceptions of its own
        raise EarsMissing(f"The voice detector can't be loaded ({broken}); {_MEND}") from broken


def detector() -> Path:
    """The model's file; EarsMissing where it is not there, ModelSpoiled where it is not as
    published."""
    with as_file(files("assistant.hear") / "weights" / _MODEL) as model:
        if not model.is_file():
            raise EarsMissing(f"The voice detector's model {model} is missing; {_MEND}")
        prove("The voice detector's model", {model: _SUM}, _MEND)
        return model


@cache
def _opened(model: Path) -> Any:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.inter_op_num_threads = options.intra_op_num_threads = 1
    options.enable_cpu_mem_arena = False
    options.log_severity_level = 4
    return onnxruntime.InferenceSession(str(model), options, providers=["CPUExecutionProvider"])


@dataclass
class Endpointer:
    """Cuts a stream of blocks of any length into utterances, while they are being spoken."""

    pauses: Pauses = field(default_factory=Pauses)
    meter: SpeechMeter = field(default_factory=SpeechMeter)

    def __post_init__(self) -> None:
        self._onset = max(1, steps_in(self.pauses.onset))
        self.wait(self.pauses.pause)
        self._longest = max(1, steps_in(self.pauses.longest))
        self._recent: deque[Samples] = deque(maxlen=steps_in(self.pauses.before) + self._onset)
        self._rest = np.zeros(0, dtype=np.float32)
        self._at = 0
        self._speaking = False
        self._latest: deque[float] = deque(maxlen=self._onset)
        self._quiet = self._length = 0

    def wait(self, pause: float) -> None:
        """From now on, so much silence ends an utterance [s]."""
        self._pause = max(1, steps_in(pause))

    def feed(self, block: Samples) -> list[Piece]:
        """The pieces of speech in this block."""
        sound = np.concatenate([self._rest, np.asarray(block, dtype=np.float32)])
        whole = len(sound) - len(sound) % FRAME
        self._rest = sound[whole:]
        steps = sound[:whole].reshape(-1, FRAME)
        found = (
            piece
            for step, probability in zip(steps, self.meter(sound[:whole]), strict=True)
            if (piece := self._step(step, float(probability))) is not None
        )
        return _joined(found)

    def finish(self) -> list[Piece]:
        """What is left when the stream ends: an utterance under way ends here."""
        padding = -len(self._rest) % FRAME
        found = self.feed(np.zeros(padding, dtype=np.float32)) if padding else []
        if not self._speaking:
            return found
        self._speaking = False
        quiet = self._quiet * FRAME
        empty = np.zeros(0, dtype=np.float32)
        return _joined([*found, Piece(empty, self._at, last=True, quiet=quiet)])

    def _step(self, step: Samples, probability: float) -> Piece | None:
        self._at += FRAME
        if not self._speaking:
            return self._waiting(step, probability)
        self._length += 1
        if probability >= self.pauses.speech:
            self._quiet = 0
        elif self._quiet or probability < self.pauses.still_speech:
            self._quiet += 1
        paused, cut = self._quiet >= self._pause, self._length >= self._longest
        if paused or cut:
            self._speaking = False
        return Piece(step, self._at - FRAME, paused or cut, cut and not paused, self._quiet * FRAME)

    def _waiting(self, step: Samples, probability: float) -> Piece | None:
        self._recent.append(step)
        self._latest.append(probability)
        full = len(self._latest) == self._onset
        if not full or sum(self._latest) < self.pauses.begins * self._onset:
            return None
        sound = np.concatenate(self._recent)
        self._length = len(self._recent)
        self._recent.clear()
        self._speaking = True
        self._latest.clear()
        self._quiet = 0
        return Piece(sound, self._at - len(sound))


def steps_in(seconds: float) -> int:
    """How many of the meter's steps are nearest to so many seconds."""
    return round(seconds * SAMPLE_RATE / FRAME)


def _joined(parts: Iterable[Piece]) -> list[Piece]:
    """Neighbouring pieces of one utterance as one piece."""
    found: list[Piece] = []
    group: list[Piece] = []
    for part in parts:
        group.append(part)
        if part.last:
            found.append(_merged(group))
            group = []
    return [*found, _merged(group)] if group else found


def _merged(group: list[Piece]) -> Piece:
    sound = np.concatenate([part.samples for part in group])
    return replace(group[-1], samples=sound, start=group[0].start)


def pieces(blocks: Iterable[Samples], pauses: Pauses | None = None) -> Iterator[Piece]:
    """The speech in a stream, piece by piece, as soon as it is there."""
    endpointer = Endpointer(pauses or Pauses())
    for block in blocks:
        yield from endpointer.feed(block)
    yield from endpointer.finish()


def utterances(blocks: Iterable[Samples], pauses: Pauses | None = None) -> Iterator[Utterance]:
    """The utterances in a stream, each as soon as it has ended."""
    pauses = pauses or Pauses()
    under_way: list[Piece] = []
    for piece in pieces(blocks, pauses):
        under_way.append(piece)
        if piece.last:
            yield whole(under_way, pauses)
            under_way = []


def whole(parts: list[Piece], pauses: Pauses) -> Utterance:
    """An utterance from all its pieces, without most of the closing pause."""
    sound = np.concatenate([part.samples for part in parts])
    spare = parts[-1].quiet - steps_in(pauses.after) * FRAME
    kept = sound[: len(sound) - spare] if spare > 0 else sound
    return Utterance(kept, parts[0].start, parts[-1].cut)
