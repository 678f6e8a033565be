"""What the ears hand on: text with alternatives and how sure they are."""

from collections.abc import Callable, Iterator
from typing import Literal, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, ConfigDict, Field

EngineName = Literal["vosk", "whisper", "typed", "scripted"]
Samples = NDArray[np.float32]
"""Mono samples at 16 kHz, -1 to 1."""

SAMPLE_RATE = 16_000

Leads = Callable[[str, tuple[str, ...]], tuple[float, ...]]
"""By how much a text is likelier than each of some others, given one utterance's sound."""


class Guess(BaseModel):
    """One way an utterance can be written, and its share of the engine's belief (0 to 1)."""

    model_config = ConfigDict(frozen=True)

    text: str
    share: float = Field(ge=0.0, le=1.0)


class Heard(BaseModel):
    """One utterance. `guesses` are ordered, best first, and their shares add up to at most 1.

    sure : 0 to 1, the engine's own certainty in the best guess (acoustic, not the n-best share)
    second : what an engine of another kind made of the same sound, ordered like the guesses, with
        shares of their own; () where no other listened
    leads : how much likelier that engine finds one text than others, for when it is in doubt;
        None where no other listened
    partial : True while the cook is still speaking; never acted upon
    seconds : computing time spent on it
    """

    model_config = ConfigDict(frozen=True)

    text: str
    guesses: tuple[Guess, ...]
    second: tuple[Guess, ...] = ()
    leads: Leads | None = Field(default=None, exclude=True, repr=False)
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
    """An utterance without a name, in every engine's guesses and in what weighs them by the sound.

    cut : the rest of a text; None where it lacks the name, and then its share is nobody's
    None where every guess lacks it.

    >>> cut = lambda text: Rest(text[3:], before="Hi ") if text.startswith("Hi ") else None
    >>> found = without(Heard.typed("Hi 72 degrees"), cut)
    >>> found and found.text
    '72 degrees'
    """
    guesses = [(rest, guess.share) for guess in heard.guesses if (rest := cut(guess.text))]
    if not guesses:
        return None
    first, leads = guesses[0][0], heard.leads

    def within(text: str, others: tuple[str, ...]) -> tuple[float, ...]:
        assert leads is not None
        return leads(_whole(text, first), tuple(_whole(other, first) for other in others))

    second = [(cut(guess.text) or Rest(""), guess.share) for guess in heard.second]
    changed = {
        "text": first.text,
        "guesses": tuple(Guess(text=rest.text, share=share) for rest, share in guesses),
        "second": tuple(Guess(text=rest.text, share=share) for rest, share in second),
        "leads": within if leads else None,
    }
    return heard.model_copy(update=changed)


def _whole(text: str, around: Rest) -> str:
    return " ".join(part for part in (around.before, text, around.after) if part)


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
