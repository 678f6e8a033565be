"""Moonshine's tiny English model through onnxruntime: a second opinion on the same sound.

It is built otherwise than Whisper (raw sound in, no window to fill up, another training), so it
seldom makes the same mistake. The model lies in the wheel `moonshine-voice`; only its folder is
read, none of its code is run.
"""

import importlib.util
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from assistant.base.errors import EarsMissing
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.moonshine_tokens import BEGIN, END, Tokens
from assistant.hear.published import prove

PACKAGE = "moonshine_voice"
LONGEST_S = 30
_FILES = ("encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin")
_SUMS = {
    "encoder_model.ort": "94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221",
    "decoder_model_merged.ort": "cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0",
    "tokenizer.bin": "6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d",
}
"""SHA-256 of the wheel's files."""
_MEND = "install it with: pip install moonshine-voice==0.0.73"
_HEADS, _WIDTH = 8, 36
_SHORTEST = 1600
"""Samples; the encoder's first layers need some sound."""
_STEPS_A_TOKEN = 6
"""Of the encoder's 41 a second: more text than anybody speaks, what comes after is invention."""
_HOPELESS = 8.0
"""A log probability so far behind the best finished text is not followed up."""

_STRETCH = 64

Array = NDArray[np.float32]


class Written(NamedTuple):
    """A text the model may have heard, and the logarithm of its probability."""

    text: str
    logprob: float


class _Beam(NamedTuple):
    tokens: tuple[int, ...]
    logprob: float


def second_folder() -> Path:
    """The folder of the model inside its wheel; EarsMissing when it isn't there or not whole,
    ModelSpoiled when it is not as published."""
    spec = importlib.util.find_spec(PACKAGE)
    places = list(spec.submodule_search_locations or []) if spec else []
    if not places:
        raise EarsMissing(f"The second opinion's model is not installed; {_MEND}")
    folder = Path(places[0]) / "assets" / "tiny-en"
    for name in _FILES:
        if not (folder / name).is_file() or (folder / name).stat().st_size == 0:
            raise EarsMissing(f"The second opinion's model in {folder} lacks {name}; {_MEND}")
    sums = {folder / name: digest for name, digest in _SUMS.items()}
    prove("The second opinion's model", sums, _MEND)
    return folder


class MoonshineModel:
    """The loaded model.

    folder : holds the two models and the list of tokens
    threads : processor cores to use
    """

    def __init__(self, folder: Path, threads: int = 1) -> None:
        self.folder = folder
        try:
            self._open(threads)
        except Exception as broken:  # onnxruntime raises exceptions of its own
            raise EarsMissing(f"The model in {folder} can't be loaded; {_MEND}") from broken

    def _open(self, threads: int) -> None:
        import onnxruntime

        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = threads
        options.inter_op_num_threads = 1
        options.log_severity_level = 3
        options.enable_cpu_mem_arena = False  # it would keep the most that any sound has taken
        encoder, decoder, tokens = (self.folder / name for name in _FILES)
        cpu = ["CPUExecutionProvider"]
        self._encoder: Any = onnxruntime.InferenceSession(str(encoder), options, providers=cpu)
        self._decoder: Any = onnxruntime.InferenceSession(str(decoder), options, providers=cpu)
        self._tokens = Tokens(tokens)
        self._outputs = [each.name for each in self._decoder.get_outputs()]
        self._past = [
            each.name for each in self._decoder.get_inputs() if each.name.startswith("past")
        ]

    def encode(self, samples: Samples) -> Array | None:
        """The encoder's view of at most 30 s of sound; None for a blink of it."""
        sound = np.asarray(samples[: LONGEST_S * SAMPLE_RATE], dtype=np.float32)
        if len(sound) < _SHORTEST:
            return None
        mask = np.ones((1, len(sound)), dtype=np.int64)
        inputs = {"input_values": sound[None], "attention_mask": mask}
        return np.asarray(self._encoder.run(None, inputs)[0], dtype=np.float32)

    def likeliest(self, encoded: Array, count: int = 5) -> tuple[Written, ...]:
        """The likeliest texts for an encoded utterance, best first."""
        most = 4 + encoded.shape[1] // _STEPS_A_TOKEN
        found = self._search(encoded, count, most)
        return tuple(Written(self._tokens.text(beam.tokens), beam.logprob) for beam in found)

    def leads(self, encoded: Array, text: str, others: Sequence[str]) -> tuple[float, ...]:
        """How much likelier the text is than each of the others, where they first part [-].

        A difference of log probabilities: 2.3 is ten times as likely. One look at the sound is
        enough for all of them; what comes after the parting is not weighed.
        """
        own = (*self._tokens.cut(text), END)
        ids = np.array([[BEGIN, *own[:-1]]], dtype=np.int64)
        logs = _log_softmax(self._run(encoded, ids, None)["logits"][0])
        return tuple(_lead(logs, own, (*self._tokens.cut(other), END)) for other in others)

    def _search(self, hidden: Array, count: int, most: int) -> list[_Beam]:
        alive, done = [_Beam((), 0.0)], list[_Beam]()
        memory: dict[str, Array] | None = None
        for _ in range(most):
            logs, made = self._step(hidden, alive, memory)
            alive, parents, ended = _best(alive, logs, count)
            done = sorted([*done, *ended], key=lambda beam: -beam.logprob)[:count]
            if not alive or (done and _settled(done, alive[0], count)):
                break
            memory = self._carried(made, memory, parents)
        return done

    def _step(
        self, hidden: Array, alive: list[_Beam], memory: dict[str, Array] | None
    ) -> tuple[NDArray[np.float64], dict[str, Array]]:
        """Log probabilities of the next token of each beam, and what to remember."""
        last = [[beam.tokens[-1] if beam.tokens else BEGIN] for beam in alive]
        made = self._run(hidden, np.array(last, dtype=np.int64), memory)
        return _log_softmax(made["logits"][:, -1]), made

    def _run(
        self, hidden: Array, ids: NDArray[np.int64], memory: dict[str, Array] | None
    ) -> dict[str, Array]:
        """One look of the decoder at the sound, all of which counts: the mask is a single one.

        The model takes every 384th place of the mask, one for each step of sound; a single place
        serves for all.
        """
        many = len(ids)
        empty = np.zeros((many, _HEADS, 0, _WIDTH), dtype=np.float32)
        inputs = {
            "input_ids": ids,
            "encoder_hidden_states": np.repeat(hidden, many, 0),
            "encoder_attention_mask": np.ones((many, 1), dtype=np.int64),
            "use_cache_branch": np.array([memory is not None]),
            **(memory or dict.fromkeys(self._past, empty)),
        }
        return dict(zip(self._outputs, self._decoder.run(None, inputs), strict=True))

    def _carried(
        self, made: dict[str, Array], memory: dict[str, Array] | None, parents: list[int]
    ) -> dict[str, Array]:
        """The memory for the beams that go on; what comes from the sound is made once only."""
        carried = {}
        for name in self._past:
            if memory is not None and ".encoder." in name:
                carried[name] = np.repeat(memory[name][:1], len(parents), 0)
            else:
                carried[name] = made[name.replace("past_key_values", "present")][parents]
        return carried


def _log_softmax(logits: Array) -> NDArray[np.float64]:
    shifted = logits.astype(np.float64)
    shifted -= shifted.max(axis=-1, keepdims=True)
    return np.asarray(shifted - np.log(np.exp(shifted).sum(axis=-1, keepdims=True)))


def _best(
    alive: list[_Beam], logs: NDArray[np.float64], count: int
) -> tuple[list[_Beam], list[int], list[_Beam]]:
    """The beams that go on, which beam each came from, and those that have ended."""
    reached = logs + np.array([[beam.logprob] for beam in alive])
    going: list[_Beam] = []
    parents, ended = list[int](), list[_Beam]()
    for place in _highest(reached.ravel(), 2 * count):
        parent, token = divmod(int(place), logs.shape[1])
        logprob = float(reached[parent, token])
        if token == END:
            ended.append(_Beam(alive[parent].tokens, logprob))
        elif len(going) < count:
            going.append(_Beam((*alive[parent].tokens, token), logprob))
            parents.append(parent)
    return going, parents, ended


def _highest(values: NDArray[np.float64], count: int) -> NDArray[np.intp]:
    """Places of the highest values, highest first.

    What is below the highest of so many stretches can't be among them; the rest is soon sorted. To
    part the whole list took a sixth of the time for an utterance.
    """
    peaks = np.maximum.reduceat(values, np.arange(0, len(values), _STRETCH))
    bound = np.partition(peaks, -count)[-count] if len(peaks) > count else -np.inf
    places = np.flatnonzero(values >= bound)
    return places[np.argsort(-values[places], kind="stable")][:count]


def _settled(done: list[_Beam], best_alive: _Beam, count: int) -> bool:
    """Whether nothing that goes on can still come among the best, or is worth following."""
    full = len(done) >= count and done[-1].logprob >= best_alive.logprob
    return full or best_alive.logprob < done[0].logprob - _HOPELESS


def _lead(logs: NDArray[np.float64], own: tuple[int, ...], other: tuple[int, ...]) -> float:
    parts = (at for at, (one, two) in enumerate(zip(own, other, strict=False)) if one != two)
    at = next(parts, None)
    return 0.0 if at is None else float(logs[at, own[at]] - logs[at, other[at]])
