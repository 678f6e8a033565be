"""The piece that a question of ours asked for, put into what lacked it: "a timer for how long?".

An answer of that kind alone ("five minutes", "sixty one", "half litres") means little by itself.
"""

import re
from collections.abc import Callable

from assistant.hear.heard import Guess, Heard
from assistant.understand.parsing import parser
from assistant.understand.told.clauses import clauses
from assistant.understand.told.lexicon import listed
from assistant.understand.told.spans import quantities

_TO_SAY = {
    "timer": "set a timer for {}",
    "temperature": "{} degrees",
    "ph": "p h {}",
    "brix": "{} brix",
    "to_brix": "how much sugar to get to {} brix",
    "to_ph": "how much citric to get to p h {}",
}
_KIND = {"timer": "duration", "temperature": "bare_number", "ph": "bare_number",
         "brix": "bare_number", "to_brix": "bare_number", "to_ph": "bare_number"}  # fmt: skip
_FILLERS = re.compile(
    r"^(um+|er+|oh|make it|say|about|for|it is|it's|that is|that's|just|exactly|they're|they are"
    r"|all|the|of|it says|it reads|says|reads)\b[ ,]*",
    re.I,
)
_SIZE = re.compile(r"each|ones|bottles?|in|left|it|about|full")
_BOTTLES = re.compile(r"\b(bottles?|jars?|ones|flasks?)\b", re.I)
_A_BIT = re.compile(
    r"\b(and|plus) (a bit|a little|some|something)( (left|over|more|of one))*\b", re.I
)


def completed(heard: Heard, what: str, said: str) -> Heard | None:
    """What was heard as the missing piece of what was said before; None where it is none.

    what : the reading that was asked for, "timer", or "bottles" where their size is missing
    said : the words that lacked it
    """
    guesses = tuple(g for g in (_each(guess, what, said) for guess in heard.guesses) if g)
    second = tuple(g for g in (_each(guess, what, said) for guess in heard.second) if g)
    text = _whole(heard.text, what, said)
    if text is None:
        return None
    if heard.engine == "typed":
        return Heard.typed(text)
    changed = {"text": text, "guesses": guesses, "second": second, "leads": None, "sound": None}
    return heard.model_copy(update=changed)


def _each(guess: Guess, what: str, said: str) -> Guess | None:
    text = _whole(guess.text, what, said)
    return None if text is None else Guess(text=text, share=guess.share)


def _whole(text: str, what: str, said: str) -> str | None:
    plain = text
    while (shorter := _FILLERS.sub("", plain)) != plain:
        plain = shorter
    found = clauses(plain)
    if len(found) != 1:
        return None
    words = found[0].words
    if what in _BEHIND:
        return _BEHIND[what](words, said)
    rule = _KIND.get(what)
    if what in _TO_SAY and words[-1:] == ("brix",):
        words = words[:-1]
    if rule is None or not parser().values(words, rule):
        return None
    return _TO_SAY[what].format(" ".join(words))


def _sized(words: tuple[str, ...], said: str) -> str | None:
    """The size alone, behind a count that lacked it."""
    size, count = _volume(words), said.rstrip(" .!?")
    if size is None or not any(quantities(clause.words) for clause in clauses(said)):
        return None
    bottles = "" if _BOTTLES.search(count) else " bottles"
    return f"{count}{bottles}, {size} each"


def _partly(words: tuple[str, ...], said: str) -> str | None:
    """What is in the last bottle, for "and a bit"."""
    left = _volume(words)
    full, found = _A_BIT.subn("", said, count=1)
    return f"{full} and one of {left}" if left is not None and found else None


def _volume(words: tuple[str, ...]) -> str | None:
    """An amount by volume that stands alone, "each" and "bottles" left out."""
    plain = " ".join(w for w in words if not _SIZE.fullmatch(w))
    plain = re.sub(r"\bhal(f|ves)( litres)?$", "half a litre", plain)
    amounts = quantities(tuple(plain.split()))
    whole = len(amounts) == 1 and amounts[0].end - amounts[0].begin == len(plain.split())
    return (
        plain
        if whole and amounts[0].words[-1] in listed("words.toml", "small", "volumes")
        else None
    )


def _so_strong(words: tuple[str, ...], said: str) -> str | None:
    """The strength of a spirit, for a calculation that lacked it."""
    number = " ".join(words).removesuffix(" per cent").removesuffix(" percent")
    if not parser().values(tuple(number.split()), "bare_number"):
        return None
    return f"{said.rstrip(' .!?')} at {number} per cent"


_BEHIND: dict[str, Callable[[tuple[str, ...], str], str | None]] = {
    "bottles": _sized,
    "part_bottle": _partly,
    "strength": _so_strong,
}
