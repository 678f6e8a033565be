"""What another engine makes of the same sound, worked out while the first one computes."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from itertools import count
from typing import NamedTuple

from assistant.base.errors import EarsMissing
from assistant.hear.heard import Guess, Leads, Rivals, Samples
from assistant.hear.moonshine_model import Array, MoonshineModel, second_folder
from assistant.hear.shares import shares

KEPT = 32
"""Sounds that can still be weighed; several microphones may wait for their turn."""


class Opinion(NamedTuple):
    """Guesses with shares, and by which the sound is known for weighing other texts."""

    guesses: tuple[Guess, ...] = ()
    sound: int | None = None


class SecondOpinion:
    """Moonshine, in a thread of its own."""

    def __init__(self, model: MoonshineModel) -> None:
        self._model = model
        self._sounds: OrderedDict[int, Array] = OrderedDict()
        self._numbers = count(1)
        self._changing = threading.Lock()
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="second-opinion")

    def on(self, samples: Samples) -> Callable[[], Opinion]:
        """Begin at once; what is returned waits for the result."""
        begun: Future[Opinion] = self._thread.submit(self._form, samples)
        return begun.result

    def weigh(self, sound: int, rivals: Rivals) -> Leads | None:
        """How the texts compare by a sound; None where it is gone or the model fails."""
        with self._changing:
            encoded = self._sounds.get(sound)
        if encoded is None:
            return None
        others = tuple(map(rivals.whole, rivals.others))
        try:
            by = self._model.leads(encoded, rivals.whole(rivals.text), others)
        except Exception:  # onnxruntime raises exceptions of its own
            return None
        return Leads(text=rivals.text, others=rivals.others, by=by)

    def _form(self, samples: Samples) -> Opinion:
        """Without an opinion the first engine's word is doubted by its own measures."""
        try:
            return self._formed(samples)
        except Exception:  # onnxruntime raises exceptions of its own
            return Opinion()

    def _formed(self, samples: Samples) -> Opinion:
        encoded = self._model.encode(samples)
        if encoded is None:
            return Opinion()
        found = self._model.likeliest(encoded)
        guesses = shares((each.text, each.logprob) for each in found)
        return Opinion(guesses, self._kept(encoded))

    def _kept(self, encoded: Array) -> int:
        with self._changing:
            number = next(self._numbers)
            self._sounds[number] = encoded
            while len(self._sounds) > KEPT:
                self._sounds.popitem(last=False)
        return number


def second_opinion() -> SecondOpinion | None:
    """The second opinion, where its model is installed."""
    try:
        return SecondOpinion(MoonshineModel(second_folder()))
    except EarsMissing:
        return None
