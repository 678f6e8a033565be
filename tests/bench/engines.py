"""The engines that are compared: our ears with our decision, and others on the same sound.

ours : the ears that `panside` opens here, each utterance decided by `understand`
whisper : the same Whisper model alone, its best text read by a plain number parser
pocketsphinx : PocketSphinx held to a grammar for what is asked, its text read by our grammar
vosk : Vosk's English model held to our words, likewise; only where a model is found

The others hear what the same voice-activity gate lets through, and take what they understand: none
of them has a way to ask back.
"""

import resource
import time
from collections.abc import Callable
from typing import Any, Protocol

from assistant.base.errors import EarsMissing
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears, Heard, Samples
from assistant.hear.voice_activity import Pauses, utterances
from assistant.hear.vosk_model import find_model
from assistant.hear.whisper_model import WhisperModel, model_folder
from assistant.understand import Question, Understood, phrases, understand, weighed
from tests.bench import plain_numbers
from tests.bench.feeding import Feed
from tests.bench.result import Made
from tests.bench.scoring import NOW, Clip, Meaning, asked_for

NAMES = ("ours", "whisper", "pocketsphinx", "vosk")


class Engine(Protocol):
    """Something that makes events of a clip."""

    name: str
    why: str

    def make(self, clip: Clip, samples: Samples, after_words: float | None = None) -> Made:
        """What comes of the clip. after_words : sound behind the last word [s], for the times."""


class Ours:
    """Ears and understanding as in a session: a question back stays open for the next utterance."""

    name = "ours"

    def __init__(self, ears: Ears) -> None:
        self._ears, self.why = ears, ears.why

    def make(self, clip: Clip, samples: Samples, after_words: float | None = None) -> Made:
        """Feed the clip in blocks and decide on each utterance."""
        asked, feed = asked_for(clip), Feed(samples)
        self._ears.expect(phrases())
        found: list[tuple[Heard, Understood]] = []
        pending: Question | None = None
        ready, understanding = None, 0.0
        for heard in self._ears.listen(feed.blocks()):
            if heard.partial:
                continue
            begun = time.perf_counter()
            heard = weighed(heard, self._ears, asked, NOW, pending)
            found.append((heard, understand(heard, asked, NOW, pending)))
            pending = found[-1][1].question
            understanding += time.perf_counter() - begun
            ready = feed.ready
        return Made(
            **_told(found, asked),
            decided=_since(ready, len(samples), after_words),
            computed=feed.worked,
            understanding=understanding,
            seconds=len(samples) / 16_000,
            peak_mb=peak_mb(),
        )


def _since(ready: float | None, size: int, after_words: float | None) -> float | None:
    """From the last word to the decision [s]; None when it came before the last word ended."""
    if ready is None or after_words is None:
        return None
    waited = ready - (size / 16_000 - after_words)
    return waited if waited > 0 else None


def _told(found: list[tuple[Heard, Understood]], asked: Asked) -> dict[str, Any]:
    questions = [made.question.candidates for _, made in found if made.question]
    return {
        "taken": tuple(event.meaning() for _, made in found for event in made.events),
        "questions": len(questions),
        "offered": tuple(_meanings(group) for groups in questions for group in groups),
        "first": tuple(m for heard, made in found for m in _best(heard, made, asked)),
        "heard": tuple(heard.text for heard, _ in found),
        "guesses": tuple((g.text, round(g.share, 3)) for heard, _ in found for g in heard.guesses),
        "reasons": tuple(made.reason for _, made in found),
    }


def _best(heard: Heard, made: Understood, asked: Asked) -> tuple[Meaning, ...]:
    """The best guess: what was taken, else what was asked about first, else the words as typed."""
    if made.events:
        return _meanings(made.events)
    if made.question:
        return _meanings(made.question.candidates[0])
    return typed(heard.text, asked)


def _meanings(events: tuple[AnyEvent, ...]) -> tuple[Meaning, ...]:
    return tuple(event.meaning() for event in events)


def typed(text: str, asked: Asked) -> tuple[Meaning, ...]:
    """What words mean when they are taken at their word, the first meaning where there are two."""
    made = understand(Heard.typed(text), asked, NOW)
    if made.question:
        return _meanings(made.question.candidates[0])
    return _meanings(made.events)


Read = Callable[[str, Clip], tuple[Meaning, ...]]


def _nothing(clip: Clip) -> None:
    """What an engine does that needn't know what is asked."""


class Alone:
    """A recogniser without our decision: its text is read and what it says is taken.

    expect : tells the engine what is asked, before the clip begins, as a stage would
    """

    def __init__(
        self,
        name: str,
        why: str,
        hear: Callable[[Samples, Clip], str],
        read: Read,
        expect: Callable[[Clip], None] = _nothing,
    ) -> None:
        self.name, self.why, self._hear, self._read = name, why, hear, read
        self._expect = expect

    def make(self, clip: Clip, samples: Samples, after_words: float | None = None) -> Made:
        """Recognise what the gate lets through; the times count from the end of the pause."""
        self._expect(clip)
        texts: list[str] = []
        feed, ready = Feed(samples), None
        for utterance in utterances(feed.blocks(), Pauses()):
            texts.append(self._hear(utterance.samples, clip))
            ready = feed.ready
        taken = tuple(meaning for text in texts for meaning in self._read(text, clip))
        return Made(
            taken=taken,
            first=taken,
            heard=tuple(texts),
            decided=_since(ready, len(samples), after_words),
            computed=feed.worked,
            seconds=len(samples) / 16_000,
            peak_mb=peak_mb(),
        )


def peak_mb() -> int:
    """Most memory that this process has held [MB]."""
    return round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


def _whisper() -> Engine:
    model = WhisperModel(model_folder(), threads=2)

    def hear(samples: Samples, clip: Clip) -> str:
        del clip
        found = model.likeliest(model.encode(samples)).found
        return found[0].text if found else ""

    why = "Whisper tiny.en, int8, beam of 5, no prompt; best text, plain number parser"
    return Alone("whisper", why, hear, lambda text, clip: plain_numbers.read(text, clip.awaiting))


def _pocketsphinx() -> Engine:
    from tests.bench.sphinx import Sphinx

    sphinx = Sphinx()
    why = "PocketSphinx, US English model of its wheel, held to a grammar for what is asked"
    return Alone(
        "pocketsphinx", why, lambda samples, _: sphinx.hear(samples),
        lambda text, clip: typed(text, asked_for(clip)), lambda clip: sphinx.expect(clip.awaiting),
    )  # fmt: skip


def _vosk() -> Engine:
    if find_model() is None:
        raise EarsMissing("no English model for Vosk was found, so Vosk was left out")
    ears = open_ears("vosk")

    def hear(samples: Samples, clip: Clip) -> str:
        del clip
        return " ".join(heard.text for heard in ears.hear(samples))

    return Alone(
        "vosk", ears.why, hear, lambda text, clip: typed(text, asked_for(clip)),
        lambda _clip: ears.expect(phrases()),
    )  # fmt: skip


def open_engine(name: str) -> Engine:
    """The engine of that name, loaded. Raises EarsMissing where it can't be."""
    if name == "ours":
        return Ours(open_ears())
    if name.startswith("ours-"):
        return Ours(open_ears(name.removeprefix("ours-")))
    return {"whisper": _whisper, "pocketsphinx": _pocketsphinx, "vosk": _vosk}[name]()
