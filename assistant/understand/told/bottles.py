"""How many bottles of what size a sentence tells of."""

import re
from dataclasses import dataclass, replace

from assistant.facts.events import AnyEvent, Bottle
from assistant.understand.told.found import strangers
from assistant.understand.told.lexicon import pattern
from assistant.understand.told.part import Part
from assistant.understand.told.sizes import RELATIVE, in_ml, kind_of, spelled_out
from assistant.understand.told.spans import things
from assistant.understand.told.stance import FILE
from assistant.understand.told.talk import Talk
from assistant.understand.told.tokens import (
    REST,
    Token,
    counts_ml,
    is_size,
    size_ml,
    spelled,
    tokens_of,
    usual,
    with_unit,
)

_ABOUT = re.compile(
    r"\b(bottles?|jars?|flasks?|ones|litres?|liters?|mils?|millilit\w+|centilit\w+|pints?"
    r"|halves|swingtops?|times|hundred|caps?|capped)\b"
)
PARTS = (
    (0.75, re.compile(r"\b(and three quarters|three quarters (full|of (a|one) bottle))\b")),
    (0.25, re.compile(r"\b(and a quarter|quarter (full|of (a|one) bottle))\b")),
    (0.5, re.compile(r"\b(and a half|half full|half a (bottle|jar)( for the \w+)?"
                    r"|half of (a|one) bottle)\b")),
    (0.0, re.compile(r"\b(and (a bit|a little|some|something)|part bottle|part filled|part full"
                     r"|(a bit|a little|some) (left|over|more|of one))\b")),
)  # fmt: skip
"""What the last bottle holds of a whole one; 0 where that is not told."""
_FULL = {0.75: "three quarters full", 0.25: "quarter full", 0.5: "half full", 0.0: ""}
_FILLED = re.compile(r"\b(filled|managed|bottled|made|got)\b")
_NOUNS = ("bottle", "bottles", "jar", "jars")


def part_told(said: str) -> tuple[str, str]:
    """A text without what it tells of a bottle that is not full, and how full that is."""
    for share, told in PARTS:
        full, found = told.subn("", said, count=1)
        if found:
            return " ".join(full.split()), _FULL[share]
    return said, ""


_LOST = re.compile(r"\b(dropped|smashed|broke|broken|cracked|shattered|slipped|fell)\b")
"""A bottle of which that is all that is said was not filled."""


def bottle_parts(talk: Talk) -> list[Part]:
    """The bottles filled, as a sentence about bottling tells; all of them or a doubt."""
    if not _ABOUT.search(talk.text):
        return []
    if talk.asked.kind != "bottle" or pattern(FILE, "stance", "undone").search(talk.text):
        return []
    if _LOST.search(talk.text) and len(talk.clauses) == 1:
        return []
    told = {n: _words(talk, n) for n in talk.having("fact")}
    held = next((_holding(words) for words in told.values() if "holding" in words), None)
    parts: list[Part] = []
    last = _Last()
    for n, words in told.items():
        if "holding" in words or words[:1] == ("not",):
            continue
        tokens = tokens_of(words)
        found, last = _paired(tokens, words, last)
        found = found or _one_more(parts, tokens, words)
        if not found and _size_behind(parts, tokens, words):
            continue
        lacking = _lacking(words, tokens, found, behind=bool(parts))
        if lacking is not None:
            return [lacking]
        inside = sum(t.end - t.begin for t in tokens)
        strange = strangers(talk.clauses[n], (), things(words)) - inside
        parts += [Part(w, sure=strange <= 0, what="bottles") for w in found]
    if len(parts) > 1 and any("of" not in part.words for part in parts):
        return [Part(doubt=("bottle_size", ()), what="bottles")]
    share = next((share for share, part in PARTS if part.search(talk.said)), None)
    if not parts or (share is None and held is None):
        return parts
    return _with_part(parts, share, held)


def _words(talk: Talk, n: int) -> tuple[str, ...]:
    """The words of a clause, with sizes that the recipe knows spelled out."""
    text = spelled_out(talk.clauses[n].text, dict(talk.asked.sizes))
    return usual((text if "holding" in text else part_told(text)[0]).split())


def _holding(words: tuple[str, ...]) -> float | None:
    return size_ml(words[words.index("holding") + 1 :])


def _lacking(
    words: tuple[str, ...], tokens: list[Token], found: list[tuple[str, ...]], behind: bool
) -> Part | None:
    """What a clause leaves open, as a doubt: the rest, what small means, a count without a size.

    found : the counts with their sizes; behind : whether other clauses told some before
    """
    if _rest(words):
        return Part(doubt=("rest_count", ()), what="rest")
    relative = RELATIVE.search(" ".join(words))
    if relative and _counts(tokens):
        return Part(
            doubt=("small_size", (("word", relative[1]),)), what=f"{kind_of(relative[1])}_size"
        )
    loose = behind and not found and bool(tokens) and tokens[-1].end == len(words)
    if _left_over(found, tokens, words) or (loose and _counts(tokens)):
        return Part(doubt=("bottle_size", ()), what="bottles")
    return None


def _rest(words: tuple[str, ...]) -> bool:
    """ "And the rest in half litres": how many were they?"""
    counted = any(t.kind == "count" for t in tokens_of(words))
    return bool(REST.search(" ".join(words))) and not counted


def _with_part(parts: list[Part], share: float | None, held: float | None) -> list[Part]:
    """The full ones and the one that is only partly full; asked about where it was reckoned.

    share : what it holds of a whole one, 0 where that is not told; held : in it, where told [ml]
    """
    sizes = {_size_ml(part.words) for part in parts}
    if None in sizes:
        return [Part(doubt=("bottle_size", ()), what="bottles")]
    whole = sorted(size for size in sizes if size is not None)
    if held is None and (not share or len(whole) > 1):
        return [Part(doubt=("part_left", ()), what="part_bottle")]
    inside = held if held is not None else whole[0] * (share or 1.0)
    larger = [size for size in whole if size > inside]
    size = min(larger, key=lambda ml: abs(ml * share - inside) if share else ml, default=None)
    if size is None:
        return [Part(doubt=("bottle_size", ()), what="bottles")]
    noun = "jar" if all("jar" in " ".join(part.words) for part in parts) else "bottle"
    rest = f"one {noun} of {in_ml(size)} holding {in_ml(inside)}"
    full_ones = parts if held is not None else [replace(part, sure=False) for part in parts]
    return [*full_ones, Part(tuple(rest.split()), sure=held is not None, what="bottles")]


def _size_ml(words: tuple[str, ...]) -> float | None:
    """The size that a count of bottles has in the grammars' words. [ml]"""
    return size_ml(words[words.index("of") + 1 :]) if "of" in words else None


def one_bottling(events: tuple[AnyEvent, ...]) -> tuple[AnyEvent, ...]:
    """Bottles of several sizes in one breath are one filling."""
    filled = [event for event in events if isinstance(event, Bottle)]
    if len(filled) < 2:
        return events
    first, *others = filled
    lots = tuple(lot for event in others for lot in event.lots)
    whole = first.model_copy(update={"more": (*first.more, *lots)})
    rest = tuple(event for event in events if not isinstance(event, Bottle))
    return (*rest, whole)


@dataclass(frozen=True)
class _Last:
    """The size and the word that were told last: "three jars of 330 and one of a litre"."""

    size: tuple[str, ...] = ()
    noun: str = "bottles"


def _paired(
    tokens: list[Token], words: tuple[str, ...], last: _Last
) -> tuple[list[tuple[str, ...]], _Last]:
    """Each count with its size."""
    found: list[tuple[str, ...]] = []
    for n, token in enumerate(tokens):
        if token.kind != "count" or is_size(n, tokens, words):
            continue
        after = tokens[n + 1 : n + 3]
        own = next((t for t in after if t.kind == "size"), None)
        bare = next((t for m, t in enumerate(tokens) if m > n and is_size(m, tokens, words)), None)
        own = own or bare
        said = () if own is None else with_unit(own)
        filled = _FILLED.search(" ".join(words)) and n == len(tokens) - 1
        if own is None and not filled and not any(t.kind == "bottle" for t in after[:1]):
            continue
        last = _Last(said or last.size, _noun(token, tokens, words, last))
        end = ("of", *said) if said else ()
        count = spelled(token.words)
        found.append((*count, last.noun[:-1] if count == ("one",) else last.noun, *end))
    return found, last


def _noun(token: Token, tokens: list[Token], words: tuple[str, ...], last: _Last) -> str:
    """Jars where they are named; "and one of 330" is one of those named before."""
    behind = [t for t in tokens if t.begin >= token.end]
    until = next((t.begin for t in behind if t.kind == "count" and t.words != token.words), None)
    named = [t.words[0] for t in behind if t.kind == "bottle" and t.begin < (until or len(words))]
    if not named and words[token.end : token.end + 1] == ("of",):
        return last.noun
    return "jars" if any(name.startswith("jar") for name in named) else "bottles"


def _one_more(
    parts: list[Part], tokens: list[Token], words: tuple[str, ...]
) -> list[tuple[str, ...]]:
    """ "And a 330", "and a half litre jar": one more, where those before have their size."""
    sizes = [t for t in tokens if t.kind == "size" or counts_ml(t.words)]
    if not parts or "of" not in parts[-1].words or len(sizes) != 1 or "each" in words:
        return []
    token = sizes[0]
    led = token.begin > 0 and words[token.begin - 1] in ("a", "an")
    if not led and token.words[0] not in ("a", "an"):
        return []
    if any(t.kind == "count" and t is not token for t in tokens):
        return []
    noun = "jar" if any(t.words[0].startswith("jar") for t in tokens) else "bottle"
    return [("one", noun, "of", *with_unit(token))]


def _size_behind(parts: list[Part], tokens: list[Token], words: tuple[str, ...]) -> bool:
    """ "Nine bottles, half a litre each": gives the last count its size, if there is one."""
    sizes = [t for t in tokens if t.kind == "size"] or _each(tokens, words)
    if len(sizes) != 1 or not parts or parts[-1].words[-1] not in _NOUNS:
        return False
    parts[-1] = replace(parts[-1], words=(*parts[-1].words, "of", *with_unit(sizes[0])))
    return True


def _each(tokens: list[Token], words: tuple[str, ...]) -> list[Token]:
    """ "500 each": a plain number of millilitres."""
    return [t for t in tokens if t.kind == "count" and "each" in words and counts_ml(t.words)]


def _counts(tokens: list[Token]) -> bool:
    return any(token.kind == "count" for token in tokens)


def _left_over(found: list[tuple[str, ...]], tokens: list[Token], words: tuple[str, ...]) -> bool:
    """Whether there is a number besides that is neither a count nor a size of these bottles."""
    counts = [
        t for n, t in enumerate(tokens) if t.kind == "count" and not is_size(n, tokens, words)
    ]
    return bool(found) and len(counts) > len(found)
