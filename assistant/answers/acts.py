"""What a cook reports or orders in their own words, by meaning: "steeping time is completed".

The same sentence model as for questions, a bank of its own (`ways/acts.txt`). It only ever leads to
a question back: a likeness is no reading, and no batch goes on by it alone.
"""

from functools import cache
from typing import Literal, NamedTuple, get_args

import numpy as np
from numpy.typing import NDArray

from assistant.answers.directions import directions
from assistant.answers.match import TALK, talk
from assistant.answers.ways import ways
from assistant.gist import Bank, Gist

Act = Literal[
    "did.crush", "did.put_in", "did.wait", "did.strain", "did.dissolve", "did.taste", "did.cool",
    "did.hot", "did.held", "did.bottle", "did.clean", "did.store", "did.done", "not_yet", "skip",
    "want", "throw_away", "take_back", "pause", "resume", "repeat",
]  # fmt: skip


CLEAR_OF_TALK = 0.05
"""So much more it must be like an act than like talk to somebody else."""


class Acted(NamedTuple):
    """What was likely done or ordered, and how alike it is to the nearest way of saying so."""

    act: Act
    likely: float


def acted(text: str, gist: Gist) -> Acted | None:
    """The act that a text tells most likely (0 to 1); None where it is likelier not for us.

    text : what the cook said or typed; gist : the sentence model
    """
    first, second = bank().nearest(gist.of(text.casefold()), 2)
    act = next((name for name in get_args(Act) if name == first.label), None)
    if act is None or (second.label == TALK and second.alike > first.alike - CLEAR_OF_TALK):
        return None
    return Acted(act, max(0.0, first.alike))


def told() -> NDArray[np.float32]:
    """Directions of every way of telling an act, a row each; talk, which stands last, left out."""
    return bank().directions[: -len(talk())]


@cache
def bank() -> Bank:
    """Every way of telling every act, and talk that is not for us.

    ValueError where the file has other labels than there are acts.
    """
    found = ways("acts")
    if set(found) != set(get_args(Act)):
        raise ValueError(f"acts.txt: {sorted(set(found) ^ set(get_args(Act)))}")
    pairs = [(label, text) for label, texts in found.items() for text in texts]
    pairs += [(TALK, text) for text in talk()]
    labels, sentences = zip(*pairs, strict=True)
    return Bank(labels, sentences, directions(sentences))
