"""Which card a cook means, by meaning and by words, and when none is meant.

The directions of the ways of asking are compared with that of the words (`assistant.gist`); words
in common lift a likeness a little, rare ones more. Kitchen talk that is for nobody here is in the
same bank: what lies nearer to it than to any card is left alone.
"""

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
from importlib.resources import files
from typing import NamedTuple

import numpy as np

from assistant.answers.card import Card, all_cards
from assistant.answers.directions import directions, kept_leaning
from assistant.gist import Bank, Gist

TALK = ""
"""The label of what is not for us."""
LEAN, LEANS_NOT = 0.3, 0.4
"""How much it lifts a likeness that all ways of asking the card together draw the text, and the
share from which it does; below that it lowers it. Chosen on ways of asking left out in turn."""
WORDS = 0.15
"""How much all words in common add to a likeness of 0 to 1. Fitted on the panel's open half."""
_LOOKED_AT = 120
"""So many ways of asking, the nearest by meaning, are compared by their words too."""
_WORD = re.compile(r"[a-z]+")
_EMPTY = frozenset(
    re.findall(
        r"\w+",
        "a an the of to in on at is it its i my me we our you do does did can could be been and or"
        " so for with that this there have has had will would what how if",
    )
)


class Found(NamedTuple):
    """A card that may be meant, how likely (0 to 1), and the way of asking nearest to it."""

    card: str
    likely: float
    asked: str


@cache
def bank() -> Bank:
    """Every way of asking every card, and talk that is not for us."""
    pairs = [(card.id, text) for card in all_cards().values() for text in card.asks]
    pairs += [(TALK, text) for text in talk()]
    labels, sentences = zip(*pairs, strict=True)
    return Bank(labels, sentences, directions(sentences))


@cache
def talk() -> tuple[str, ...]:
    """Sentences said in kitchens to somebody else."""
    text = files("assistant.answers").joinpath("cards", "talk.txt").read_text("utf-8")
    return tuple(line for line in text.splitlines() if line and not line.startswith("#"))


def find(
    text: str, gist: Gist, may: Callable[[Card], bool] = lambda _: True, most: int = 3
) -> tuple[Found, ...]:
    """The cards that a text may mean, likeliest first; those that can't be meant now left out.

    Talk that is not for us is among them, with the card "".

    text : what the cook said or typed; gist : the sentence model; may : whether a card can be meant
    """
    held, direction = bank(), gist.of(text.casefold())
    said = told_words(text)
    alike = held.directions @ direction
    near = np.argsort(-alike, kind="stable")[:_LOOKED_AT]
    leans = kept_leaning().of(direction)
    found_at = {
        at: likely(float(alike[at]), said, held.sentences[at], leans.get(held.labels[at]))
        for at in near
    }
    cards = all_cards()
    found: dict[str, Found] = {}
    for at in sorted(found_at, key=lambda place: -found_at[place]):
        label = held.labels[at]
        if label in found or (label != TALK and not may(cards[label])):
            continue
        found[label] = Found(label, found_at[at], held.sentences[at])
        if len(found) == most:
            break
    return tuple(found.values())


def likely(alike: float, said: frozenset[str], sentence: str, leans: float | None) -> float:
    """How likely a way of asking is meant (0 to 1).

    alike : by direction; said : the words of the text, as `told_words` gives them
    leans : the share of its label in what the text leans to; None for one newer than that
    """
    lean = 0.0 if leans is None else LEAN * (leans - LEANS_NOT)
    return min(1.0, max(0.0, alike + WORDS * _in_common(said, sentence) + lean))


def told_words(text: str) -> frozenset[str]:
    """The words of a text that tell something, without their endings."""
    return frozenset(_words(text.casefold()))


@cache
def _rarity() -> dict[str, float]:
    """How much a word tells: much where few cards have it."""
    cards = all_cards().values()
    counts = Counter(word for card in cards for word in {w for a in card.asks for w in _words(a)})
    return {word: math.log((1 + len(cards)) / (1 + n)) for word, n in counts.items()}


@lru_cache(maxsize=8192)
def _words(text: str) -> tuple[str, ...]:
    return tuple(_stem(w) for w in _WORD.findall(text.casefold()) if w not in _EMPTY)


def _stem(word: str) -> str:
    for end in ("ing", "es", "s", "ed"):
        if word.endswith(end) and len(word) - len(end) >= 3:
            return word[: -len(end)]
    return word


@cache
def _rarest() -> float:
    return max(_rarity().values(), default=1.0)


def _weight(words: Iterable[str]) -> float:
    rarity, most = _rarity(), _rarest()
    return sum(rarity.get(word, most) for word in words)


def _in_common(said: frozenset[str], sentence: str) -> float:
    """Share of the words' weight that both have (0 to 1)."""
    asked = frozenset(_words(sentence))
    whole = _weight(said | asked)
    return _weight(said & asked) / whole if whole else 0.0
