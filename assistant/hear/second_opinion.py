"""What another engine makes of the same sound, worked out while the first one computes."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import NamedTuple

from assistant.base.errors import EarsMissing
from assistant.hear.heard import Guess, Leads, Samples
from assistant.hear.moonshine_model import MoonshineModel, second_folder
from assistant.hear.shares import shares


class Opinion(NamedTuple):
    """Guesses with shares, and what weighs other texts by the same sound."""

    guesses: tuple[Guess, ...] = ()
    leads: Leads | None = None


class SecondOpinion:
    """Moonshine, in a thread of its own."""

    def __init__(self, model: MoonshineModel) -> None:
        self._model = model
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="second-opinion")

    def on(self, samples: Samples) -> Callable[[], Opinion]:
        """Begin at once; what is returned waits for the result."""
        begun: Future[Opinion] = self._thread.submit(self._form, samples)
        return begun.result

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
        return Opinion(guesses, lambda text, others: self._model.leads(encoded, text, others))


def second_opinion() -> SecondOpinion | None:
    """The second opinion, where its model is installed."""
    try:
        return SecondOpinion(MoonshineModel(second_folder()))
    except EarsMissing:
        return None
