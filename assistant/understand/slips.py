"""What else a number may have been: one word slipped into another, went missing or was put in."""

from assistant.understand.alike import TWIN, eights

_FIGURES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TEENS = (
    "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen",
    "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_KIN = {word: kin for kin in (_FIGURES, _TEENS, _TENS) for word in kin}

Words = tuple[str, ...]


def slips(words: Words) -> tuple[Words, ...]:
    """The words with one number word changed for another of its kind, left out, or put in.

    "A hundred" may have been eight hundred.

    >>> found = slips(("seventy", "degrees"))
    >>> ("seventeen", "degrees") in found, ("seventy", "two", "degrees") in found, len(found)
    (True, True, 17)
    """
    found: dict[Words, None] = {}
    places = [at for at, word in enumerate(words) if word in _KIN]
    for at in places:
        before, word, after = words[:at], words[at], words[at + 1 :]
        whole_tens = word in _TENS and after[:1] not in [(figure,) for figure in _FIGURES]
        twin = (TWIN[word],) if word in TWIN and (whole_tens or word in _TEENS) else ()
        found |= dict.fromkeys((*before, other, *after) for other in (*_KIN[word], *twin))
        if whole_tens:
            found |= dict.fromkeys((*before, word, figure, *after) for figure in _FIGURES)
        if len(places) > 1:
            found[before + after] = None
    found |= dict.fromkeys(eights(words))
    found.pop(words, None)
    return tuple(found)


def written(words: Words) -> str:
    """The words as a recogniser writes them down.

    >>> written(("seventy", "two", "degrees"))
    'Seventy two degrees.'
    """
    return " ".join(words).capitalize() + "."
