"""What a cook calls a size: "the half litres", "a 330", "the small ones"."""

import re
from collections.abc import Mapping

from assistant.understand.words import to_words

RELATIVE = re.compile(
    r"\b(small|smaller|smallest|little|tiny|mini|big|bigger|biggest|large|larger|largest)"
    r"( (bottles?|ones?|jars?))?\b"
)
_SMALL = frozenset(("small", "smaller", "smallest", "little", "tiny", "mini"))


def is_small(word: str) -> bool:
    """Whether a word of `RELATIVE` is for the smallest."""
    return word in _SMALL


def meant_ml(word: str, known: Mapping[str, float]) -> float | None:
    """What a recipe means by such a word, None where it does not say. [ml]

    known : its words for bottles, each with its size [ml]
    """
    alike = ("small", "little") if is_small(word) else ("large", "big")
    return next((known[name] for name in (word, *alike) if name in known), None)


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
