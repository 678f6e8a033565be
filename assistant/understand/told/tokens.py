"""Counts, sizes and words for bottles in a clause, where they stand."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.base.units import to_base
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse, parser
from assistant.understand.told.lexicon import listed

VESSELS = frozenset(
    ("bottle", "bottles", "ones", "jar", "jars", "flask", "flasks", "swing", "swingtops")
)
REST = re.compile(
    r"\b(all )?(the )?(rest|remainder|others)( went| is| are| goes| go)?( into| in| to)?( the)?\b"
)
"""What was not told of yet: "the rest in half litres"."""
_VOLUME = frozenset(listed("words.toml", "small", "volumes"))
_OF_A_GAP = ("finger", "fingers", "inch", "inches")
"""Behind a number that tells how much air was left."""
_SHARES = ("half", "quarter", "quarters", "third", "thirds", "of")
_ONE_OR_LESS = ("one", "a", "half", "quarter")


@dataclass(frozen=True)
class Token:
    """A count, a size or a word for bottle, where it stands."""

    kind: str
    begin: int
    end: int
    words: tuple[str, ...]


def usual(words: Sequence[str]) -> tuple[str, ...]:
    """The words with what people add to bottles left out, and half litres spelled out."""
    text = f" {' '.join(words)} "
    text = re.sub(r" (by|x) (?=\w)", " times ", text)
    text = re.sub(r" halves ", " half litres ", text)
    text = re.sub(r" (half|quarter) (pints?) ", r" \1 \2 ", text)
    text = re.sub(
        r"\b(swing top|swing|glass|clean|full|filled|scalded|brown|clear|flip top)"
        r" (?=(bottles?|ones|jars?)\b)",
        "",
        text,
    )
    return tuple(text.split())


def tokens_of(words: tuple[str, ...]) -> list[Token]:
    """All of them, in order."""
    found = parser().within(words, ("amount", "whole", "dozens"))
    taken: list[Token] = []
    for begin, end in sorted(found.get("amount", ()), key=lambda s: s[0] - s[1]):
        said = words[begin:end]
        if _VOLUME & set(said) and not _overlap(taken, begin, end):
            taken += _sizes(begin, end, words)
    for rule in ("dozens", "whole"):
        for begin, end in sorted(found.get(rule, ()), key=lambda s: s[0] - s[1]):
            gap = words[end : end + 1] and words[end] in _OF_A_GAP
            if not _overlap(taken, begin, end) and words[begin] != "oh" and not gap:
                taken.append(Token("count", begin, end, words[begin:end]))
    for n, word in enumerate(words):
        if word in VESSELS:
            taken.append(Token("bottle", n, n + 1, (word,)))
        elif _is_one(n, words) and not _overlap(taken, n, n + 1):
            taken.append(Token("count", n, n + 1, ("one",)))
    return sorted(taken, key=lambda t: t.begin)


def _is_one(n: int, words: tuple[str, ...]) -> bool:
    """ "Another", and "a jar" where it is not half of it."""
    if words[n] == "another":
        return True
    behind = words[n + 1 : n + 2]
    whole = n == 0 or words[n - 1] not in _SHARES
    return words[n] in ("a", "an") and bool(behind) and behind[0] in VESSELS and whole


def _sizes(begin: int, end: int, words: tuple[str, ...]) -> list[Token]:
    """One size; "ten pint bottles" are ten of a pint."""
    said = words[begin:end]
    ahead = words[end : end + 1]
    one_of = said[-1] in ("pint", "litre", "liter") and bool(ahead) and ahead[0] in VESSELS
    many = said[-1] in ("pints", "litres", "liters") and not (ahead and ahead[0] in VESSELS)
    if len(said) == 2 and (one_of or many) and said[0] not in _ONE_OR_LESS:
        unit = ("one", said[-1].rstrip("s"))
        return [Token("count", begin, end - 1, said[:-1]), Token("size", end - 1, end, unit)]
    return [Token("size", begin, end, said)]


def _overlap(taken: list[Token], begin: int, end: int) -> bool:
    return any(begin < t.end and t.begin < end for t in taken)


def is_size(n: int, tokens: list[Token], words: tuple[str, ...]) -> bool:
    """A plain number after "of" or "times" behind a count is a size in millilitres."""
    token = tokens[n]
    if token.kind != "count" or token.begin == 0 or n == 0:
        return False
    led = words[token.begin - 1] in ("of", "the", "times", "at") or tokens[n - 1].end == token.begin
    return led and tokens[n - 1].kind in ("count", "bottle") and counts_ml(token.words)


def counts_ml(words: tuple[str, ...]) -> bool:
    """Whether a plain number is a size in millilitres: a hundred or more."""
    return any(value[0] >= 100 for value in parser().values(words, "whole"))


def with_unit(token: Token) -> tuple[str, ...]:
    """A size in words, in millilitres where it is a plain number."""
    return token.words if token.kind == "size" else (*token.words, "millilitres")


def spelled(count: tuple[str, ...]) -> tuple[str, ...]:
    """A count in words, dozens too."""
    dozens = {("a", "dozen"): "twelve", ("dozen",): "twelve", ("two", "dozen"): "twenty four",
              ("half", "a", "dozen"): "six", ("three", "dozen"): "thirty six"}  # fmt: skip
    return tuple(dozens.get(count, " ".join(count)).split())


def size_ml(said: tuple[str, ...]) -> float | None:
    """The volume that words alone come to; None where they come to none. [ml]"""
    meant = [p.meant for p in parse(said)] if said else []
    sizes = (m for m in meant if isinstance(m, Amount) and m.unit)
    return next((to_base(float(m.value), str(m.unit)) for m in sizes), None)
