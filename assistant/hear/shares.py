"""Scores of an n-best list as shares of belief."""

import math
import re
from collections.abc import Iterable

from assistant.hear.heard import Guess


def shares(scored: Iterable[tuple[str, float]]) -> tuple[Guess, ...]:
    """Texts with log scores as guesses, likeliest first; the shares add up to at most 1.

    Texts that differ only in capitals, spaces, closing punctuation, or in saying it all twice, are
    one guess, written as the likeliest of them. Empty ones are no guess, but take their share away
    from the others.

    >>> [(g.text, round(g.share, 2)) for g in shares([("60.", -1.0), ("16", -2.0), ("60", -2.0)])]
    [('60.', 0.79), ('16', 0.21)]
    """
    groups: dict[str, list[tuple[str, float]]] = {}
    for text, score in scored:
        said = once(text)
        groups.setdefault(plain(said), []).append((said, score))
    best = max((s for group in groups.values() for _, s in group), default=0.0)
    weights = [
        (max(group, key=lambda each: each[1])[0], sum(math.exp(s - best) for _, s in group))
        for group in groups.values()
    ]
    total = sum(weight for _, weight in weights)
    ordered = sorted(weights, key=lambda each: -each[1])
    return tuple(
        Guess(text=text, share=min(1.0, weight / total)) for text, weight in ordered if plain(text)
    )


def mixed(*lists: tuple[Guess, ...]) -> tuple[Guess, ...]:
    """The guesses of several recognisers as one list: each has an equal say, likeliest first.

    >>> sixty, sixteen = Guess(text="60.", share=0.8), Guess(text="16", share=0.6)
    >>> [(g.text, g.share) for g in mixed((sixty,), (sixteen, Guess(text="60", share=0.4)))]
    [('60.', 0.6), ('16', 0.3)]
    """
    groups: dict[str, list[Guess]] = {}
    for guess in (each for guesses in lists for each in guesses):
        groups.setdefault(plain(guess.text), []).append(guess)
    weighed = (
        Guess(
            text=max(group, key=lambda each: each.share).text,
            share=min(1.0, sum(each.share for each in group) / len(lists)),
        )
        for group in groups.values()
    )
    return tuple(sorted(weighed, key=lambda each: -each.share))


def plain(text: str) -> str:
    """A text without capitals, spare spaces and closing punctuation; signs within it stay.

    >>> plain(" Minus 1.5  degrees. ")
    'minus 1.5 degrees'
    """
    return " ".join(text.lower().split()).rstrip(" .,!?;:")


def once(text: str) -> str:
    """A text without the repetition that recognisers fall into on short speech.

    >>> once("15. 15."), once("Stop. Stop. Stop."), once("No, no."), once("5.5")
    ('15.', 'Stop.', 'No, no.', '5.5')
    """
    sentences = re.split(r"(?<=[.!?])\s+", text.strip())
    return sentences[0] if len({plain(sentence) for sentence in sentences}) == 1 else text.strip()
