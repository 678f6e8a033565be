"""Our own ears: Whisper tiny.en tuned to this kitchen's words, voices and noise.

What is ours lies in this package as a patch of 17 million weights over the wheel's model; how it
was made stands in `tests/bench/tuning/README.md`. It was taught on 8 s and hears no more at once:
who talks longer is heard by the model as it was published alone.
"""

from concurrent.futures import ThreadPoolExecutor
from importlib.resources import as_file, files

from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.mel import log_mel
from assistant.hear.published import prove
from assistant.hear.whisper_model import Hypotheses, Place, WhisperModel, model_folder

WINDOW_S = 8
LONGEST_S = WINDOW_S - 0.5
"""Sound up to here fits the window with a little nothing behind it. [s]"""
_PATCH = "kitchen.npz"
_SUMS = {_PATCH: "2879f4bb894f32129e262a18a15db23034d0985cc616e63a309134dde1872a92"}
_MEND = "install it again with: pip install --force-reinstall --no-deps panside"


def tuned_place() -> Place:
    """Where the tuned model lies: EarsMissing where the wheel's isn't there or not whole,
    ModelSpoiled where one of them is not as published."""
    with as_file(files("assistant.hear") / "weights" / _PATCH) as patch:
        prove("The tuned model", {patch: _SUMS[_PATCH]}, _MEND)
        return Place(model_folder(), patch=patch, windows_s=(WINDOW_S,))


class TunedModel:
    """The tuned model, and the one it was made from: alone the tuned one is too sure of itself.

    They listen side by side, each on its own cores: two cores that share the work of one model lose
    a sixth of their time to waiting for each other.

    threads : processor cores to use, both models together
    prompt : text that the published model believes was said before
    """

    def __init__(self, threads: int = 2, prompt: str = "") -> None:
        place = tuned_place()
        self.folder = place.folder
        each = max(1, threads // 2)
        self._tuned = WhisperModel(place, each)
        self._published = WhisperModel(self.folder, each, prompt)
        self._beside = ThreadPoolExecutor(1, thread_name_prefix="tuned-model")

    def heard(self, samples: Samples) -> tuple[Hypotheses, ...]:
        """The likeliest texts for an utterance by each model that can hear so long a one."""
        if len(samples) > LONGEST_S * SAMPLE_RATE:
            return (self._published.heard(samples),)
        seen = log_mel(samples)
        tuned = self._beside.submit(self._tuned.heard, samples, seen)
        published = self._published.heard(samples, seen)
        return tuned.result(), published
