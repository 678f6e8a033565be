"""Which of several batches an utterance is for: "for the raspberry, sixty-eight degrees"."""

from collections.abc import Iterator, Mapping

from pydantic import BaseModel, ConfigDict
from rapidfuzz import fuzz

from assistant.hear.heard import Heard, Rest, without
from assistant.understand.parsing import parser
from assistant.understand.told.spans import quantities
from assistant.understand.words import to_words

_LEADS = frozenset(("for", "four", "in", "on", "with", "to"))
"""Words before a batch's name. A recogniser writes "four" for "for" now and then."""
_ARTICLES = frozenset(("the", "a", "my", "our"))
_TAILS = frozenset(("syrup", "batch", "one", "pan", "pot"))
_TURN_TO = tuple(
    tuple(words.split())
    for words in ("go on", "carry on", "continue", "let's go on", "move on", "go", "switch", "over")
)
"""With a batch's name these turn to it; "go on with the rhubarb" is not "done" there."""
_LONGEST_NAME = 4
ALIKE = 86.0
"""Likeness from which a word is a name misheard (rapidfuzz ratio); "raspberries" to "raspberry"
is 90, "rhubarb" to "raspberry" 50."""

Names = Mapping[str, tuple[str, ...]]
"""Batch id to what it goes by, in plain words: its fruit, its recipe's name."""


class Addressed(BaseModel):
    """An utterance and whom it is for.

    to : ids of the batches that go by the name that was said; () where none was named
    bare : nothing but the name was said
    rest : the utterance without it; its guesses keep their shares, and those for another batch
        are nobody's, so that a doubt about the name is a doubt about the whole
    """

    model_config = ConfigDict(frozen=True)

    to: tuple[str, ...] = ()
    bare: bool = False
    rest: Heard


def addressed(heard: Heard, names: Names) -> Addressed:
    """Whom an utterance is for, by its likeliest guess.

    names : of the batches at work. A fruit that none of them goes by is not a name here, so "for
        the rhubarb" is nobody's until there is a batch of it.

    >>> at_work = {"b-1": ("raspberry",), "b-2": ("rhubarb",)}
    >>> found = addressed(Heard.typed("for the raspberry, 68 degrees"), at_work)
    >>> found.to, found.rest.text
    (('b-1',), 'sixty eight degrees')
    >>> addressed(Heard.typed("68 degrees"), at_work).to
    ()
    """
    said = to_words(heard.text)
    to, words = _parted(said, names)
    if not to:
        return _inside(said, heard, names) or Addressed(rest=heard)

    def cut(text: str) -> Rest | None:
        return _rest(to_words(text), to, names)

    bare = not words and said[0] not in (*_LEADS, *_ARTICLES)
    return Addressed(to=to, bare=bare, rest=without(heard, cut) or heard)


def _rest(words: tuple[str, ...], to: tuple[str, ...], names: Names) -> Rest | None:
    """The words without the batches' name; None where they name others, or none."""
    who, left = _parted(words, names)
    if who != to:
        return None
    size = len(words) - len(left)
    at_end = words[: len(left)] == left
    name = " ".join(words[len(left) :] if at_end else words[:size])
    text = " ".join(left)
    return Rest(text, after=name) if at_end else Rest(text, before=name)


def fruit_without_batch(heard: Heard) -> str | None:
    """The fruit that something is said to be for, when no batch goes by it.

    >>> fruit_without_batch(Heard.typed("for the plum, 68 degrees"))
    'plum'
    """
    words = to_words(heard.text)
    if len(words) < 3 or words[0] not in ("for", "four") or words[1] not in _ARTICLES:
        return None
    found = (_fruits(words[2:end]) for end in range(2 + _LONGEST_NAME, 2, -1))
    return next((min(fruits) for fruits in found if fruits), None)


def _inside(said: tuple[str, ...], heard: Heard, names: Names) -> Addressed | None:
    """ "Where's the raspberry one up to", "raspberries are mashed": one of several named inside.

    Not where a number is told: "two kilos of raspberries" may be for any batch that waits for
    its fruit.
    """
    if len(names) < 2 or quantities(said):
        return None
    found = [span for span in _spans(said) if named(said[span[0] : span[1]], names)]
    who = {id_ for begin, end in found for id_ in named(said[begin:end], names)}
    if len(who) != 1 or _NOT_THIS & set(said):
        return None
    begin, end = max(found, key=lambda span: span[1] - span[0])
    begin -= begin > 0 and said[begin - 1] in _ARTICLES
    verb = end < len(said) and said[end] in _VERBS
    it = ("it",) if begin > 0 or verb else ()
    text = " ".join((*said[:begin], *it, *said[end:]))
    return Addressed(to=tuple(who), rest=without(heard, lambda _: Rest(text)) or heard)


def _spans(said: tuple[str, ...]) -> Iterator[tuple[int, int]]:
    """Every stretch of words that may be a name, with what names carry behind them."""
    for begin in range(len(said)):
        for end in range(begin + 1, min(len(said), begin + _LONGEST_NAME) + 1):
            yield begin, end


_NOT_THIS = frozenset(("start", "begin", "new", "another", "not", "than", "like", "both", "and"))
"""With these the name of a batch is what is wished for or compared with, not whom it is for."""
_VERBS = frozenset(("is", "are", "has", "have", "was", "were", "it's"))

Parted = tuple[tuple[str, ...], tuple[str, ...]]


def _parted(words: tuple[str, ...], names: Names) -> Parted:
    """The batches named at the start or the end of some words, and the words left."""
    who, rest = _at_start(words, names) or _at_end(words, names) or ((), words)
    return who, () if who and rest in _TURN_TO else rest


def _at_start(words: tuple[str, ...], names: Names) -> Parted | None:
    """ "For the raspberry ...", or a name that stands alone."""
    lead = 1 if words and words[0] in _LEADS else 0
    begin = lead + (len(words) > lead and words[lead] in _ARTICLES)
    for end in range(min(len(words), begin + _LONGEST_NAME), begin, -1):
        who = named(words[begin:end], names)
        alone = end == len(words)
        if who and (lead or alone):
            return who, words[end:]
    return None


def _at_end(words: tuple[str, ...], names: Names) -> Parted | None:
    """ "... for the raspberry"."""
    for begin in range(max(1, len(words) - _LONGEST_NAME), len(words)):
        lead = begin - (words[begin - 1] in _ARTICLES)
        if lead < 2 or words[lead - 1] not in _LEADS - {"four"}:
            continue
        who = named(words[begin:], names)
        if who:
            return who, words[: lead - 1]
    return None


def named(words: tuple[str, ...], names: Names) -> tuple[str, ...]:
    """The batches that go by a name, "syrup" or "batch" after it left out.

    >>> named(("raspberries",), {"b-1": ("raspberry",), "b-2": ("raspberry", "cold shrub")})
    ('b-1', 'b-2')
    """
    plain = words[:-1] if len(words) > 1 and words[-1] in _TAILS else words
    said = {" ".join(words), " ".join(plain), *_fruits(plain)}
    return tuple(id_ for id_, own in names.items() if any(_alike(name, said) for name in own))


def _fruits(words: tuple[str, ...]) -> set[str]:
    return {str(value[0]) for value in parser().values(words, "fruit") if value}


def _alike(name: str, said: set[str]) -> bool:
    return any(fuzz.ratio(name, each) >= ALIKE for each in said)
