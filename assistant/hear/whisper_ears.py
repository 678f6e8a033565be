"""Ears on Whisper: whole utterances, five guesses each, no word list to keep to."""

import math
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.hear.heard import SAMPLE_RATE, EngineName, Guess, Heard, Rivals, Samples
from assistant.hear.listening import Listening
from assistant.hear.second_opinion import Opinion, SecondOpinion
from assistant.hear.shares import mixed, once, plain, shares
from assistant.hear.tuned_model import TunedModel
from assistant.hear.voice_activity import Pauses, Utterance
from assistant.hear.whisper_model import Hypotheses, WhisperModel

PROMPT = "Grams, kilos, degrees, pH, Brix, litres."
"""Units without a number: of 115 recordings 98 were understood with it, 91 without. A prompt with
numbers in it puts them into the cook's mouth."""
NO_SPEECH = 0.65
"""Above this probability of no speech an utterance is dropped, should one get past the gate, unless
its words are certain. Measured with the prompt: 0.71 to 0.91 for noise, which it writes down as
"Grams."; speech reached 0.62 down to 5 dB over noise, but 0.9 for single digits in a human voice.
"""
CERTAIN = 0.37
"""Mean probability of a token: -1 as a logarithm, where Whisper's reference decoder counts silence
(`logprob_threshold`). Noise had at most 0.31, the digits at least 0.41."""

ALONE = 0.75
"""So much Whisper is believed at most where no second engine heard words too, which is less than a
number needs to be taken: alone it is sure of what it mishears. Cautious, no source."""
LONGEST_S = 15.0
"""Who talks this long without a pause talks to somebody else, and must not hold up the ears: 25 s
of talk took two engines 11 s. Common practice, no source. [s]"""
SECOND_UP_TO_S = 8.0
"""Longer utterances are heard by the tiny model alone: 5, 10 and 24 s of talk cost the second
opinion 1.1, 2.8 and 9.4 s on a busy machine. [s]"""


class WhisperEars:
    """The tiny English Whisper model, as we tuned it, behind the voice detector.

    Several streams may be listened to at once, each with a gate of its own; the model takes their
    utterances one after another.

    model : folder of a model as published; our tuned one when left out
    threads : processor cores to use
    prompt : text that the model believes was said before
    pauses : where an utterance ends
    second : another engine that listens too; without it more is asked back
    timer : seconds of some clock, for `Heard.seconds`
    Raises EarsMissing when the model isn't there.
    """

    name: EngineName = "whisper"

    def __init__(
        self,
        model: Path | None = None,
        *,
        threads: int = 2,
        prompt: str = PROMPT,
        pauses: Pauses | None = None,
        second: SecondOpinion | None = None,
        timer: Callable[[], float] = time.perf_counter,
    ) -> None:
        self._model: WhisperModel | TunedModel = (
            WhisperModel(model, threads, prompt) if model else TunedModel(threads, prompt)
        )
        self._pauses = pauses or Pauses()
        self.second = second
        self._timer = timer
        self._one_at_a_time = threading.Lock()
        self.why = f"Whisper (tiny.en) listens, with the model in {self.folder}."

    @property
    def folder(self) -> Path:
        """Where the model lies that ours was made from."""
        return self._model.folder

    def expect(self, phrases: tuple[str, ...]) -> None:
        """Whisper can't be held to a phrase list: nothing changes."""

    def hear(self, samples: Samples) -> list[Heard]:
        """The utterances in a recording, in order."""
        return list(self.listen(iter([samples])))

    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        """Each utterance of a stream as soon as it has ended."""
        return Listening(self._recognise, self._pauses).over(blocks)

    def weigh(self, heard: Heard, rivals: Rivals) -> Heard:
        """An utterance with its leads, by the second opinion; as it was where that fails."""
        if self.second is None or heard.sound is None:
            return heard
        leads = self.second.weigh(heard.sound, rivals)
        return heard.model_copy(update={"leads": leads})

    def _recognise(self, utterance: Utterance) -> Heard | None:
        begun, seconds = self._timer(), len(utterance.samples) / SAMPLE_RATE
        if seconds > LONGEST_S:
            return None
        beside = seconds <= SECOND_UP_TO_S
        opinion = self.second.on(utterance.samples) if self.second and beside else Opinion
        found = self._found(utterance)
        other = opinion()
        if _no_speech(found[0]):
            return None
        guesses, certainty = _pooled(found)
        if not other.guesses:
            guesses = tuple(Guess(text=each.text, share=ALONE * each.share) for each in guesses)
        return Heard(
            text=guesses[0].text,
            guesses=guesses,
            second=other.guesses,
            sound=other.sound,
            sure=0.0 if utterance.cut else certainty,
            engine=self.name,
            seconds=self._timer() - begun,
        )

    def _found(self, utterance: Utterance) -> tuple[Hypotheses, ...]:
        with self._one_at_a_time:
            return self._hear(utterance.samples)

    def _hear(self, samples: Samples) -> tuple[Hypotheses, ...]:
        if isinstance(self._model, TunedModel):
            return self._model.heard(samples)
        return (self._model.heard(samples),)


def _pooled(found: tuple[Hypotheses, ...]) -> tuple[tuple[Guess, ...], float]:
    """The guesses of the models that listened, and their mean certainty in their best one."""
    lists = [shares((each.text, each.logprob) for each in one.found) for one in found]
    told = [(one, guesses) for one, guesses in zip(found, lists, strict=True) if guesses]
    certainty = sum(_certainty(one, guesses[0].text) for one, guesses in told) / len(told)
    return mixed(*(guesses for _, guesses in told)), certainty


def _no_speech(found: Hypotheses) -> bool:
    """Whether nobody spoke."""
    best = next((each.text for each in found.found), "")
    if not plain(best):
        return True
    return found.no_speech > NO_SPEECH and _certainty(found, once(best)) < CERTAIN


def _certainty(found: Hypotheses, text: str) -> float:
    """Mean probability of a token in the best guess."""
    average = next(each.average for each in found.found if once(each.text) == text)
    return min(1.0, math.exp(average))
