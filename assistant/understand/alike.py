"""Numbers that sound alike: -teen and -ty, "a hundred" and "eight hundred", "well" and twelve."""

from itertools import pairwise

from assistant.understand.bounds import number_in, plausible
from assistant.understand.resolve import Events, Moment
from assistant.understand.weigh import key, senses

_PAIRS = (
    ("thirteen", "thirty"), ("fourteen", "forty"), ("fifteen", "fifty"), ("sixteen", "sixty"),
    ("seventeen", "seventy"), ("eighteen", "eighty"), ("nineteen", "ninety"),
)  # fmt: skip
TWIN = dict(_PAIRS) | {ty: teen for teen, ty in _PAIRS}
_WHOLE = ("hundred", "thousand")
_AFTER_TWELVE = ("twenty", "hundred", "point", *TWIN)
_MARKS = ("point", "comma")
_THREE_UP = ("three", "four", "five", "six", "seven", "eight", "nine")
_FIGURES = ("zero", "one", "two", *_THREE_UP)


def twin_words(words: tuple[str, ...], figures: bool = False) -> list[tuple[str, ...]]:
    """The words with one -teen turned into its -ty, or the other way round, or "a" into eight.

    figures : the recogniser wrote figures, so that "3.15" may have been "three fifteen"

    >>> twin_words(("nine", "fifteen"))
    [('nine', 'fifty')]
    >>> twin_words(("a", "hundred", "grams"))
    [('eight', 'hundred', 'grams')]
    >>> twin_words(("three", "point", "one", "five"), figures=True)
    [('three', 'point', 'five', 'zero')]
    """
    found = [
        (*words[:at], TWIN[word], *words[at + 1 :]) for at, word in enumerate(words) if word in TWIN
    ]
    found += _first_sounds(words, figures)
    return found + (_twin_decimals(words) if figures else [])


def _first_sounds(words: tuple[str, ...], figures: bool) -> list[tuple[str, ...]]:
    """The words with "a hundred" turned into eight hundred and "well, twenty" into twelve twenty.

    Recognisers write 100 for "a hundred", so "one" is turned too where they wrote figures.
    """
    twelves = [
        (*words[:at], "twelve", *words[at + 1 :])
        for at, (word, after) in enumerate(pairwise(words))
        if word == "well" and after in _AFTER_TWELVE
    ]
    return eights(words, ("a", "one") if figures else ("a",)) + twelves


def eights(words: tuple[str, ...], little: tuple[str, ...] = ("a",)) -> list[tuple[str, ...]]:
    """The words with a little one before "hundred" or "thousand" turned into eight.

    >>> eights(("a", "thousand"))
    [('eight', 'thousand')]
    """
    return [
        (*words[:at], "eight", *words[at + 1 :])
        for at, (word, after) in enumerate(pairwise(words))
        if word in little and after in _WHOLE
    ]


def _twin_decimals(words: tuple[str, ...]) -> list[tuple[str, ...]]:
    """The words with exactly two decimals turned: .15 into .50, .50 into .15."""
    found = []
    for at, word in enumerate(words):
        first, second, third = (*words[at + 1 : at + 4], "", "", "")[:3]
        if word not in _MARKS or third in _FIGURES:
            continue
        if first == "one" and second in _THREE_UP:
            found.append((*words[: at + 1], second, "zero", *words[at + 3 :]))
        elif first in _THREE_UP and second == "zero":
            found.append((*words[: at + 1], "one", first, *words[at + 3 :]))
    return found


def twins(
    events: Events, words: tuple[str, ...], moment: Moment, figures: bool = False
) -> list[Events]:
    """What else it may have been, as far as that can be at all."""
    if number_in(events) is None:
        return []
    found: dict[str, Events] = {}
    for changed in twin_words(words, figures):
        for sense in senses(changed, moment)[0]:
            same_kinds = [e.kind for e in sense.events] == [e.kind for e in events]
            if same_kinds and plausible(sense.events, moment.asked, moment.at):
                found[key(sense.events)] = sense.events
    found.pop(key(events), None)
    return list(found.values())
