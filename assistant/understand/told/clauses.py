"""A sentence as clauses: stretches of plain words that each say one thing."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from assistant.understand.parsing import parser
from assistant.understand.told.lexicon import any_of, listed
from assistant.understand.words import LONGEST, to_words

MOST = 2 * LONGEST
"""Characters; longer talk tells nobody anything. Common practice, no source."""
_CLOCK = re.compile(
    r"\b\d{1,2}\s?[:.]?\d{0,2}\s?(?:a\.?m\.?|p\.?m\.?)(?!\w)|\b(?<![.,])[0-2]?\d:[0-5]\d\b", re.I
)
_PRICE = re.compile(
    r"(?:[£$€₹]|\brs\.?)\s?\d+(?:[.,]\d+)*|\b\d+(?:[.,]\d+)*\s?(?:[£$€₹]|p\b|rs\b|bucks\b)", re.I
)
_PERCENT = re.compile(r"\b\d+(?:\.\d+)?\s?%")
_PLURAL = re.compile(r"\b(\d{2,4})s\b")
_MARKS = re.compile(r"(\.{2,}|…|[.!?;:]+(?=\s|$)|,(?!\d)|,(?=\d{4})|\s[-–—]+\s|[()\"])")
_STRONG = frozenset(".!?;…")
_JOINERS = frozenset(listed("words.toml", "small", "joiners"))
_SHORT = {
    "cant": "can not", "can't": "can not", "cannot": "can not", "won't": "will not",
    "wont": "will not", "shan't": "shall not", "ain't": "is not", "let's": "let us",
    "lets": "let us", "dont": "do not", "havent": "have not", "isnt": "is not",
    "arent": "are not", "wasnt": "was not", "werent": "were not", "doesnt": "does not",
    "didnt": "did not", "couldnt": "could not", "wouldnt": "would not",
    "shouldnt": "should not", "hasnt": "has not", "hadnt": "had not", "ive": "i have",
    "im": "i am", "its": "it is", "thats": "that is", "theres": "there is",
    "whats": "what is", "youre": "you are", "theyre": "they are", "weve": "we have",
    "itll": "it will", "thatll": "that will", "hes": "he is", "shes": "she is",
    "wheres": "where is", "hows": "how is", "whos": "who is", "gonna": "going to",
    "gotta": "have to", "wanna": "want to", "dunno": "do not know", "u": "you", "r": "are",
    "ur": "your", "k": "ok", "pls": "please", "plz": "please", "thx": "thanks",
    "cuz": "because", "coz": "because", "cos": "because", "cause": "because", "bout": "about",
    "w": "with", "d'you": "do you", "innit": "innit", "gimme": "give me",
    "citrics": "citric is", "mls": "millilitres", "'tis": "it is",
    "degress": "degrees",
    "wasn't": "was not", "temp's": "temperature is",
}  # fmt: skip
_ENDS = (("n't", "not"), ("'ll", "will"), ("'ve", "have"), ("'re", "are"), ("'d", "would"),
         ("'m", "am"), ("'s", "is"))  # fmt: skip
_SET_PHRASES = tuple(
    (re.compile(said if "(?" in said else rf"\b{said}\b", re.I), meant)
    for said, meant in (
        ("(every )?now and (then|again)", "sometimes"), ("all (this|that|the) while", "all along"),
        ("or so", "roughly"), ("so far", "up to now"), ("a while", "some time"),
        (
            r"\b(?:if (?:you|u) (?:want|need|like)(?: it| that| to know)?|if that helps)(?=\W*$)",
            "",
        ),
        ("(like|as|just like|exactly as) (you|u) (said|say|told|told me|wanted|asked)", ""),
        ("as (told|instructed|planned|asked)", ""), ("(as|so) (soon|long) as", "when"),
        ("(i would|i'd|id|let's|lets|we can|you could) (call|say) (it|that|so)?", "it is roughly"),
        ("half an? litres?", "half a litre"), ("why not", "yes"),
        ("(i|we|you|one) can (see|smell|feel|tell)", r"\1 \2"), ("together", ""),
        (
            "(sugar|water|acid|citric|juice|temp|meter|lid|jug|probe|thermometer|scale|syrup)s "
            "(?=(?:in|gone|all|at|not|on|says|reads|clear|done|only|still|now|too)\\b)", r"\1 is "
        ),
        (
            r"(?<=\d|d|y) and (?=(?:one|two|three|four|five|six|seven|eight|nine|\d+) "
            r"(?:of|bottles?|half|small|smaller|times)\b)", ", "
        ),
    )
)  # fmt: skip
_SUBJECTS = frozenset(listed("words.toml", "small", "subjects"))
_UNITS = ("kilo", "litre", "liter", "pint", "pound", "cup", "gram")
_NUMBER = ("bare_number", "amount", "duration")
_REJECTED = any_of(["not", "and not"])


@dataclass(frozen=True)
class Clause:
    """Some words, what led into them, the mark after them, and the sentence they stand in."""

    words: tuple[str, ...]
    joiner: str = ""
    mark: str = ""
    sentence: int = 0

    @property
    def text(self) -> str:
        """The words as one string."""
        return " ".join(self.words)


def written_out(words: tuple[str, ...]) -> tuple[str, ...]:
    """Short forms in full.

    >>> written_out(("it's", "in"))
    ('it', 'is', 'in')
    """
    return tuple(part for word in words for part in _full(word).split())


def _full(word: str) -> str:
    if word in _SHORT:
        return _SHORT[word]
    for end, meant in _ENDS:
        if word.endswith(end) and len(word) > len(end):
            return f"{word.removesuffix(end)} {meant}"
    return word


@lru_cache(maxsize=256)
def clauses(text: str) -> tuple[Clause, ...]:
    """The clauses of a text, in order; () for one that is too long.

    >>> [c.text for c in clauses("Sugar's in, and it's all mashed.")]
    ['sugar is in', 'it is all mashed']
    """
    if len(text) > MOST:
        return ()
    plain = text.replace("\u2019", "'")
    for said, meant in _SET_PHRASES:
        plain = said.sub(meant, plain)
    plain = _PRICE.sub(" pricetag ", _CLOCK.sub(" clocktime ", plain))
    plain = _PLURAL.sub(r"\1", _PERCENT.sub(" percent ", plain))
    return tuple(_all(plain))


def _all(text: str) -> Iterator[Clause]:
    parts = _MARKS.split(text)
    sentence = 0
    for piece, mark in zip(parts[::2], [*parts[1::2], ""], strict=True):
        found = list(_joined(usual(written_out(to_words(piece)))))
        strong = bool(_STRONG & set(mark))
        for at, (joiner, words) in enumerate(found):
            last = mark.strip() if at == len(found) - 1 else ""
            yield Clause(words, joiner, last, sentence)
        sentence += strong


def usual(words: tuple[str, ...]) -> tuple[str, ...]:
    """Ways to say an amount that the grammars lack, as they have them.

    >>> usual(("kilo", "and", "a", "half"))
    ('a', 'kilo', 'and', 'a', 'half')
    >>> usual(("three", "pounds", "with", "a", "half"))
    ('three', 'pounds', 'and', 'a', 'half')
    >>> usual(("two", "kilos", "three", "of", "raspberries"))
    ('two', 'point', 'three', 'kilos', 'of', 'raspberries')
    """
    words = _tenths_behind(words)
    out: list[str] = []
    for at, word in enumerate(words):
        after = words[at + 1 : at + 4]
        if word == "with" and after[:2] in (("a", "half"), ("a", "quarter")):
            word = "and"
        if word == "another" and after[:1] and after[0] in _UNITS:
            word = "a"
        lone = not out or out[-1] in ("", "about", "is", "of", "roughly", "have", "got")
        if word in _UNITS and lone and after[:1] == ("and",):
            out.append("a")
        out.append(word)
    return tuple(out)


_DIGITS = frozenset(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine"))
_TENTHS_OF = frozenset(("kilo", "kilos", "litre", "litres", "liter", "liters"))


def _tenths_behind(words: tuple[str, ...]) -> tuple[str, ...]:
    """ "Two kilos three" is 2.3 kilos, where nothing else is counted by the three."""
    for at in range(1, len(words) - 1):
        whole, unit, tenth = words[at - 1 : at + 2]
        alone = words[at + 2 : at + 3] in ((), ("of",), ("in",), ("here",), ("then",))
        if unit in _TENTHS_OF and whole in _DIGITS and tenth in _DIGITS and alone:
            return (*words[:at], "point", tenth, unit, *words[at + 2 :])
    return words


def _joined(words: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The words parted at conjunctions and before "not seventy", never within a number."""
    numbers = parser().within(words, _NUMBER)
    spans = [span for found in numbers.values() for span in found]
    inner = {at for begin, end in spans for at in range(begin + 1, end)}
    starts = {begin for begin, _ in spans}
    begin, joiner = 0, ""
    for at, word in enumerate(words):
        rejected = word == "not" and at + 1 in starts and words[at + 1] not in ("a", "an", "half")
        asks = at > begin and _asks_here(words, at)
        if word in ("who", "which") and at == begin:
            continue
        if at in inner or not (word in _JOINERS or rejected or asks):
            continue
        if (
            word in ("before", "after", "once", "since")
            and words[at + 1 : at + 2]
            and (words[at + 1] not in _SUBJECTS)
        ):
            continue
        if at > begin:
            yield joiner, words[begin:at]
        joiner, begin = ("", at) if rejected or asks else (word, at + 1)
    if begin < len(words):
        yield joiner, words[begin:]


_AUXILIARY = frozenset(listed("words.toml", "small", "auxiliaries"))
_ASKED_OF = frozenset(listed("words.toml", "small", "asked_of"))
_BEFORE = frozenset(listed("words.toml", "small", "before_asking"))


def _asks_here(words: tuple[str, ...], at: int) -> bool:
    """ "79 now shall i turn it down": a question begins without a mark."""
    after = words[at + 1 : at + 2]
    if words[at] not in _AUXILIARY or not after or after[0] not in _ASKED_OF:
        return False
    return words[at - 1] not in _BEFORE
