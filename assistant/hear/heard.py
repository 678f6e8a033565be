"""What the ears hand on: text with alternatives and how sure they are."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, Protocol

from pydantic import BaseModel, ConfigDict, Field

EngineName = Literal["vosk", "whisper", "typed", "scripted"]

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]
    """Mono samples at 16 kHz, -1 to 1."""
else:
    Samples = Any  # what is typed needs no numpy

SAMPLE_RATE = 16_000


class Guess(BaseModel):
    """One way an utterance can be written, and its share of the engine's belief (0 to 1)."""

    model_config = ConfigDict(frozen=True)

    text: str
    share: float = Field(ge=0.0, le=1.0)


class Rivals(BaseModel):
    """What an utterance may say, and what else it may have been: texts to be weighed by its sound.

    before, after : what stands before and behind each of them in the sound: a name
    """

    model_config = ConfigDict(frozen=True)

    text: str
    others: tuple[str, ...]
    before: str = ""
    after: str = ""

    def whole(self, text: str) -> str:
        """One of the texts with all that was said around it."""
        return " ".join(part for part in (self.before, text, self.after) if part)


class Leads(BaseModel):
    """By how much a text is likelier than each of some others, given one utterance's sound.

    by : natural logarithm of the ratio of their probabilities; 2.3 is ten times as likely
    """

    model_config = ConfigDict(frozen=True)

    text: str
    others: tuple[str, ...]
    by: tuple[float, ...]


class Heard(BaseModel):
    """One utterance. `guesses` are ordered, best first, and their shares add up to at most 1.

    sure : 0 to 1, the engine's own certainty in the best guess (acoustic, not the n-best share)
    second : what an engine of another kind made of the same sound, ordered like the guesses, with
        shares of their own; () where no other listened
    sound : by which the ears still know what they heard, to weigh texts by it; None where they
        can't
    leads : how much likelier that engine finds one text than others; None where it has not weighed
    before, after : a name that was cut off the texts, and still is in the sound
    partial : True while the cook is still speaking; never acted upon
    seconds : computing time spent on it
    """

    model_config = ConfigDict(frozen=True)

    text: str
    guesses: tuple[Guess, ...]
    second: tuple[Guess, ...] = ()
    sound: int | None = None
    leads: Leads | None = None
    before: str = ""
    after: str = ""
    sure: float = Field(ge=0.0, le=1.0)
    engine: EngineName
    partial: bool = False
    seconds: float = 0.0

    @classmethod
    def typed(cls, text: str) -> "Heard":
        """Text from a keyboard or a pipe: one guess, certain."""
        return cls(text=text, guesses=(Guess(text=text, share=1.0),), sure=1.0, engine="typed")


class Rest(NamedTuple):
    """What is left of a text without a name before it or behind it."""

    text: str
    before: str = ""
    after: str = ""


def without(heard: Heard, cut: Callable[[str], Rest | None]) -> Heard | None:
    """An utterance without a name, in every engine's guesses; what was cut off is kept beside them.

    cut : the rest of a text; None where it lacks the name, and then its share is nobody's
    None where every guess lacks it.

    >>> cut = lambda text: Rest(text[3:], before="Hi") if text.startswith("Hi ") else None
    >>> found = without(Heard.typed("Hi 69 degrees"), cut)
    >>> found and (found.before, found.text)
    ('Hi', '69 degrees')
    """
    guesses = [(rest, guess.share) for guess in heard.guesses if (rest := cut(guess.text))]
    if not guesses:
        return None
    first = guesses[0][0]
    second = [(cut(guess.text) or Rest(""), guess.share) for guess in heard.second]
    changed = {
        "text": first.text,
        "guesses": tuple(Guess(text=rest.text, share=share) for rest, share in guesses),
        "second": tuple(Guess(text=rest.text, share=share) for rest, share in second),
        "before": _both(heard.before, first.before),
        "after": _both(first.after, heard.after),
    }
    return heard.model_copy(update=changed)


def _both(one: str, other: str) -> str:
    return " ".join(part for part in (one, other) if part)


class Ears(Protocol):
    """A recogniser. Implementations raise EarsMissing when they can't be made."""

    name: EngineName
    why: str
    """One sentence: why this engine was taken and with which model."""

    def expect(self, phrases: tuple[str, ...]) -> None:
        """Tell the recogniser what may be said now (a phrase list); engines may ignore it."""

    def hear(self, samples: Samples) -> list[Heard]:
        """The utterances in a whole recording, in order; [] for silence and noise."""

    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        """Utterances from a stream of blocks, partials among them where the engine has any."""

    def weigh(self, heard: Heard, rivals: Rivals) -> Heard:
        """An utterance of theirs with its leads; as it was where they can't weigh it."""
