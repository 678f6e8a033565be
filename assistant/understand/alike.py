"""Numbers that sound alike: -teen and -ty, wherever they stand in the words."""

from assistant.understand.bounds import number_in, plausible
from assistant.understand.resolve import Events, Moment
from assistant.understand.weigh import key, senses

_PAIRS = (
    ("thirteen", "thirty"), ("fourteen", "forty"), ("fifteen", "fifty"), ("sixteen", "sixty"),
    ("seventeen", "seventy"), ("eighteen", "eighty"), ("nineteen", "ninety"),
)  # fmt: skip
TWIN = dict(_PAIRS) | {ty: teen for teen, ty in _PAIRS}


def twin_words(words: tuple[str, ...]) -> list[tuple[str, ...]]:
    """The words with one -teen turned into its -ty, or the other way round.

    >>> twin_words(("nine", "fifteen"))
    [('nine', 'fifty')]
    """
    return [
        (*words[:at], TWIN[word], *words[at + 1 :]) for at, word in enumerate(words) if word in TWIN
    ]


def twins(events: Events, words: tuple[str, ...], moment: Moment) -> list[Events]:
    """What else it may have been, as far as that can be at all."""
    if number_in(events) is None:
        return []
    found: dict[str, Events] = {}
    for changed in twin_words(words):
        for sense in senses(changed, moment)[0]:
            same_kinds = [e.kind for e in sense.events] == [e.kind for e in events]
            if same_kinds and plausible(sense.events, moment.asked, moment.at):
                found[key(sense.events)] = sense.events
    found.pop(key(events), None)
    return list(found.values())
