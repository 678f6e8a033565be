"""The piece that a question of ours asked for, put into what lacked it: "a timer for how long?".

An answer of that kind alone ("five minutes", "sixty one", "half litres") means little by itself.
"""

import re
from collections.abc import Callable

from assistant.hear.heard import Guess, Heard
from assistant.understand.parsing import parser
from assistant.understand.told.bottles import part_told
from assistant.understand.told.clauses import clauses
from assistant.understand.told.lexicon import listed
from assistant.understand.told.sizes import RELATIVE, Kind, kind_of
from assistant.understand.told.spans import quantities
from assistant.understand.told.tokens import REST, size_ml
from assistant.understand.wished import brix_in

_TO_SAY = {
    "timer": "set a timer for {}",
    "temperature": "{} degrees",
    "ph": "p h {}",
    "brix": "{} brix",
    "other_brix": "stretch it with the {} brix one",
    "to_brix": "how much sugar to get to {} brix",
    "to_ph": "how much citric to get to p h {}",
}
_KIND = {"timer": "duration", "temperature": "bare_number", "ph": "bare_number",
         "brix": "bare_number", "to_brix": "bare_number", "to_ph": "bare_number",
         "other_brix": "bare_number"}  # fmt: skip
_FILLERS = re.compile(
    r"^(um+|er+|oh|make it|say|about|for|it is|it's|that is|that's|just|exactly|they're|they are"
    r"|all|the|of|it says|it reads|says|reads)\b[ ,]*",
    re.I,
)
_SIZE = re.compile(r"each|ones|bottles?|in|left|it|about|full")
_BOTTLES = re.compile(r"\b(bottles?|jars?|ones|flasks?)\b", re.I)
_LEAST_ML = 20
"""A plain number of millilitres for a bottle's size is no smaller (common practice, no source)."""


def completed(heard: Heard, what: str, said: str) -> Heard | None:
    """What was heard as the missing piece of what was said before; None where it is none.

    what : the reading that was asked for, "timer", or what is missing of bottles: "bottles" for
        their size, "small_size" and the like, "part_bottle", "rest", "volume"
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


def size_told(text: str) -> float | None:
    """The size that an answer tells by itself, None for anything else. [ml]"""
    found = clauses(_without_fillers(text))
    words = found[0].words if len(found) == 1 else ()
    size = _volume(words) or _in_ml(words)
    return size_ml(tuple(size.split())) if size else None


def _without_fillers(text: str) -> str:
    while (shorter := _FILLERS.sub("", text)) != text:
        text = shorter
    return text


def _whole(text: str, what: str, said: str) -> str | None:
    found = clauses(_without_fillers(text))
    if not found or (len(found) > 1 and what not in _LISTED):
        return None
    words = tuple(" and ".join(clause.text for clause in found).split())
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
    size, count = _volume(words) or _in_ml(words), said.rstrip(" .!?")
    if size is None or not any(quantities(clause.words) for clause in clauses(said)):
        return None
    bottles = "" if _BOTTLES.search(count) else " bottles"
    return f"{count}{bottles}, {size} each"


def _partly(words: tuple[str, ...], said: str) -> str | None:
    """What is in the bottle that is not full, for "and a bit"."""
    left, (full, share) = _volume(words) or _in_ml(words), part_told(_plain(said))
    return f"{full} and one {share} holding {left}" if left is not None else None


def _size_of(kind: Kind) -> Callable[[tuple[str, ...], str], str | None]:
    """What the "small" ones hold that were asked about, put in its place."""

    def put(words: tuple[str, ...], said: str) -> str | None:
        size, text = _volume(words) or _in_ml(words), _plain(said)
        alike = dict.fromkeys(m[0] for m in RELATIVE.finditer(text) if kind_of(m[1]) == kind)
        if size is None or not alike:
            return None
        for told in alike:
            noun = told.split()[-1] if " " in told else "ones"
            text = text.replace(told, f"{noun} of {size}")
        return text

    return put


def _of_the_rest(words: tuple[str, ...], said: str) -> str | None:
    """How many the rest filled, put in its place."""
    plain = tuple(w for w in words if not _SIZE.fullmatch(w) and w not in _HALF)
    counts = parser().values(plain, "whole") if plain else {}
    if not any(value[0] > 0 for value in counts):
        return None
    text, found = REST.subn(" ".join(plain), _plain(said), count=1)
    return text if found else None


def _how_many(words: tuple[str, ...], said: str) -> str | None:
    """The bottles that a volume was, put in its place."""
    text = _plain(said)
    amounts = [q for q in quantities(tuple(text.split())) if size_ml(q.words)]
    if not amounts or not quantities(words):
        return None
    volume = " ".join(amounts[0].words)
    return re.sub(rf"\b{volume}( of (it|them))?\b", " ".join(words), text, count=1)


def _in_ml(words: tuple[str, ...]) -> str | None:
    """A plain number that can be a bottle's size in millilitres."""
    plain = tuple(w for w in words if not _SIZE.fullmatch(w))
    values = parser().values(plain, "whole") if plain else {}
    return f"{' '.join(plain)} millilitres" if any(v[0] >= _LEAST_ML for v in values) else None


def _plain(said: str) -> str:
    """A text in plain words; what its clauses are parted by stays."""
    return " and ".join(clause.text for clause in clauses(said))


_LISTED = ("volume",)
"""What may be answered by several things in a row."""
_HALF = frozenset(("half", "litre", "litres", "halves", "of", "them"))


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


def _blended(words: tuple[str, ...], said: str) -> str | None:
    """How much of the other syrup, or the Brix that both are to come to."""
    number = tuple(w for w in words if w != "brix")
    if parser().values(number, "bare_number"):
        return f"{said.rstrip(' .!?')} to {' '.join(number)} brix"
    plain = tuple(" ".join(words).removesuffix(" of it").removesuffix(" of that").split())
    other = brix_in(said)
    if other is None or not parser().values(plain, "amount"):
        return None
    return f"what if i mix in {' '.join(plain)} of the {other:g} brix one"


_BEHIND: dict[str, Callable[[tuple[str, ...], str], str | None]] = {
    "bottles": _sized,
    "part_bottle": _partly,
    "strength": _so_strong,
    "small_size": _size_of("small"),
    "medium_size": _size_of("medium"),
    "large_size": _size_of("large"),
    "rest": _of_the_rest,
    "volume": _how_many,
    "blend": _blended,
}
