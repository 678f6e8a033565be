"""What a cook calls a size: "the half litres", "a 330", "the small ones"."""

import re
from collections.abc import Mapping
from typing import Literal

from assistant.understand.words import to_words

Kind = Literal["small", "medium", "large"]
RELATIVE = re.compile(
    r"\b(small|smaller|smallest|little|tiny|mini|medium|middle|big|bigger|biggest|large|larger"
    r"|largest)"
    r"( (bottles?|ones?|jars?))?\b"
)
_KINDS: dict[Kind, tuple[str, ...]] = {
    "small": ("small", "little", "smaller", "smallest", "tiny", "mini"),
    "medium": ("medium", "middle"),
    "large": ("large", "big", "larger", "bigger", "largest", "biggest"),
}


def kind_of(word: str) -> Kind:
    """Which of the three a word of `RELATIVE` is for."""
    return next((kind for kind, words in _KINDS.items() if word in words), "large")


def meant_ml(word: str, known: Mapping[str, float]) -> float | None:
    """What is meant here by such a word, None where nobody has said. [ml]

    known : words for bottles, each with its size [ml]
    """
    return next((known[name] for name in (word, *_KINDS[kind_of(word)]) if name in known), None)


def spelled_out(text: str, known: Mapping[str, float]) -> str:
    """A text with the words that the recipe knows put into millilitres."""

    def size(match: re.Match[str]) -> str:
        ml = meant_ml(match[1], known)
        return match[0] if ml is None else f"{match[3] or 'ones'} of {in_ml(ml)}"

    return RELATIVE.sub(size, text)


def in_ml(ml: float) -> str:
    """A size in plain words.

    >>> in_ml(330)
    'three hundred and thirty millilitres'
    """
    return " ".join(to_words(f"{ml:g} millilitres"))
