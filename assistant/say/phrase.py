"""Lines into sentences: which are said aloud, which only shown, and how each is worded."""

import re
from collections.abc import Sequence
from decimal import Decimal

from assistant.base.errors import WordsMissing
from assistant.cook.reply import AT_MOST, Fact, Line, Quantity, Reply
from assistant.say import amounts
from assistant.say.chosen import degrees
from assistant.say.general import ANOTHER_WARNING
from assistant.say.numerals import in_words
from assistant.say.words import fill, template

_WARNINGS = ("limit", "caution")
_END_MARK = re.compile(r"[.!?]*$")


def by_ear(line: Line) -> str:
    """A line as it is spoken; the fact named in `repeat` is said once more at the end.

    >>> by_ear(Line(id="x", rank="do", text="Weigh out {sugar} of sugar.", repeat="sugar",
    ...             facts={"sugar": Quantity(value=600, unit="g")}))
    'Weigh out six hundred grams of sugar: six hundred grams.'
    """
    words = fill(_template(line), line.facts, _fact_by_ear, line.id)
    if line.repeat is not None:
        words = _END_MARK.sub(lambda mark: f": {_once_more(line)}{mark[0]}", words, count=1)
    return _as_sentence(re.sub(r"\bpH\b", "p h", words))


def by_eye(line: Line) -> str:
    """A line as it is shown.

    >>> by_eye(Line(id="x", rank="do", text="Weigh out {sugar} of sugar.", repeat="sugar",
    ...             facts={"sugar": Quantity(value=600, unit="g")}))
    'Weigh out 600 g of sugar.'
    """
    return _as_sentence(_filled_by_eye(line))


def fragment(line: Line) -> str:
    """A line as a few words for the page, no sentence.

    >>> fragment(Line(id="x", rank="detail", text="cool to {to} or less",
    ...               facts={"to": Quantity(value=45, unit="degC", exact=True)}))
    'cool to 45 °C or less'
    """
    return _filled_by_eye(line)


def spoken(reply: Reply, *, detail: bool = False) -> str:
    """What is said aloud: the two most urgent lines, in the reply's order.

    What is read back leads into the first of them: "Seventy-one degrees: four degrees to go."
    A limit or caution that found no room is announced, so that no warning goes unheard; where two
    sentences are said already, in one of them.

    detail : also takes lines that are only shown otherwise, when the cook has asked for more
    """
    told = reply.aloud(detail)
    leads = [line for line in told if line.rank == "read_back"]
    lines = [line for line in told if line.rank != "read_back"]
    sentences = [by_ear(line) for line in lines]
    if any(line.rank in _WARNINGS for line in more(reply, detail=detail).lines):
        sentences = _announcing(sentences)
    if not leads:
        return " ".join(sentences)
    lead = _END_MARK.sub("", _lead_in(leads))
    if not sentences:
        return f"{lead}."
    return " ".join([f"{lead}: {sentences[0]}", *sentences[1:]])


def _announcing(sentences: list[str]) -> list[str]:
    """That there is another warning: by itself, or at the end of the last that asks nothing."""
    told = by_ear(ANOTHER_WARNING)
    plain = [n for n, sentence in enumerate(sentences) if not sentence.endswith("?")]
    if len(sentences) < AT_MOST or not plain:
        return [*sentences, told]
    joined = f"{_END_MARK.sub('', sentences[plain[-1]])}; {told[:1].lower()}{told[1:]}"
    return [*sentences[: plain[-1]], joined, *sentences[plain[-1] + 1 :]]


def _lead_in(leads: Sequence[Line]) -> str:
    """What was read back, as a few words: "Blackcurrant, two point four kilos"."""
    words = [_END_MARK.sub("", by_ear(line)) for line in leads]
    return ", ".join([words[0], *(w[:1].lower() + w[1:] for w in words[1:])])


def more(reply: Reply, *, detail: bool = False) -> Reply:
    """The lines that `spoken` left out, in their order, for when the cook asks for more."""
    return reply.model_copy(update={"lines": reply.left(detail)})


def shown(reply: Reply) -> list[str]:
    """All lines as they are shown."""
    return [by_eye(line) for line in reply.lines]


def _template(line: Line) -> str:
    return line.text if line.text is not None else template(line.id)


def _once_more(line: Line) -> str:
    name = line.repeat or ""
    if name not in line.facts:
        raise WordsMissing(f"the line {line.id!r} repeats {name!r} but has no such fact")
    fact = line.facts[name]
    if isinstance(fact, Quantity):
        fact = fact.likely()
    return _fact_by_ear(fact, "")


def _fact_by_ear(fact: Fact, before: str) -> str:
    match fact:
        case Quantity():
            return amounts.by_ear(fact, bare=_says_ph(before))
        case int():
            return in_words(Decimal(fact))
        case str():
            return fact


def _filled_by_eye(line: Line) -> str:
    words = _template(line)
    return fill(words, degrees(words, line.facts), _fact_by_eye, line.id)


def _fact_by_eye(fact: Fact, before: str) -> str:
    return amounts.by_eye(fact, bare=_says_ph(before)) if isinstance(fact, Quantity) else str(fact)


def _says_ph(before: str) -> bool:
    """Whether the sentence so far has named the pH, so that only the number is wanted."""
    sentence = re.split(r"[.!?] ", before)[-1]
    return re.search(r"\b(?:pH|[Pp] h)\b", sentence) is not None


def _as_sentence(words: str) -> str:
    words = words.strip()
    mark = "" if not words or words[-1] in ".!?" else "."
    first = words[:1] if words.startswith("pH") else words[:1].upper()
    return first + words[1:] + mark
