"""How many bottles of what size a sentence tells of."""

import re
from dataclasses import dataclass, replace

from assistant.base.units import to_base
from assistant.facts.events import AnyEvent, Bottle
from assistant.understand.meaning import Amount
from assistant.understand.parsing import parse, parser
from assistant.understand.told.found import strangers
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.part import Part
from assistant.understand.told.spans import things
from assistant.understand.told.stance import FILE
from assistant.understand.told.talk import Talk
from assistant.understand.words import to_words

_BOTTLE = frozenset(
    ("bottle", "bottles", "ones", "jar", "jars", "flask", "flasks", "swing", "swingtops")
)
_ABOUT = re.compile(
    r"\b(bottles?|jars?|flasks?|ones|litres?|liters?|mils?|millilit\w+|centilit\w+|pints?"
    r"|halves|swingtops?|times|hundred|caps?|capped)\b"
)
_SIZED = re.compile(r"\b(small|little|big|large|tiny|mini)( bottles?| ones?| jars?)?\b")
_PARTS = (
    (0.75, re.compile(r"\b(and three quarters|three quarters (full|of (a|one) bottle))\b")),
    (0.25, re.compile(r"\b(and a quarter|quarter (full|of (a|one) bottle))\b")),
    (0.5, re.compile(r"\b(and a half|half full|half a bottle|half of (a|one) bottle)\b")),
    (0.0, re.compile(r"\b(and (a bit|a little|some|something)|part bottle|part filled|part full"
                     r"|(a bit|a little|some) (left|over|more|of one))\b")),
)  # fmt: skip
"""What the last bottle holds of a whole one; 0 where that is not told."""
_VOLUME = frozenset(listed("words.toml", "small", "volumes"))
_FILLED = re.compile(r"\b(filled|managed|bottled|made|got)\b")
_ONE_OR_LESS = ("one", "a", "half", "quarter")


@dataclass(frozen=True)
class _Token:
    """A count, a size or a word for bottle, where it stands."""

    kind: str
    begin: int
    end: int
    words: tuple[str, ...]


def bottle_parts(talk: Talk) -> list[Part]:
    """The bottles filled, as a sentence about bottling tells; all of them or a doubt."""
    if not _ABOUT.search(talk.text):
        return []
    if talk.asked.kind != "bottle" or pattern(FILE, "stance", "undone").search(talk.text):
        return []
    parts: list[Part] = []
    size: tuple[str, ...] = ()
    for n in talk.having("fact"):
        words = _usual(talk.clauses[n].words)
        if words and words[0] == "not":
            continue
        tokens = _tokens(words)
        found, size = _paired(tokens, words, size)
        if not found and _size_behind(parts, tokens, words):
            continue
        behind = bool(parts) and not found and bool(tokens) and tokens[-1].end == len(words)
        if found is None or _left_over(found, tokens, words) or (behind and _counts(tokens)):
            return [Part(doubt=("bottle_size", ()), what="bottles")]
        inside = sum(t.end - t.begin for t in tokens)
        strange = strangers(talk.clauses[n], (), things(words)) - inside
        parts += [Part(w, sure=strange <= 0, what="bottles") for w in found]
    held = next((share for share, told in _PARTS if told.search(talk.said)), None)
    return parts if held is None or not parts else _with_part(parts, held)


def _with_part(parts: list[Part], share: float) -> list[Part]:
    """The full ones and the last one, which is only partly full: asked about, as one of its own."""
    full = " ".join(parts[-1].words)
    size = _size_ml(parts[-1].words)
    if size is None:
        return [Part(doubt=("bottle_size", ()), what="bottles")]
    if not share:
        return [Part(doubt=("part_left", (("full", full),)), what="part_bottle")]
    rest = to_words(f"one bottles of {size * share:.0f} millilitres")
    return [replace(part, sure=False) for part in (*parts, Part(rest, what="bottles"))]


def _size_ml(words: tuple[str, ...]) -> float | None:
    """The size that a count of bottles has in the grammars' words. [ml]"""
    said = words[words.index("of") + 1 :] if "of" in words else ()
    meant = [p.meant for p in parse(said)] if said else []
    sizes = (m for m in meant if isinstance(m, Amount) and m.unit)
    return next((to_base(float(m.value), str(m.unit)) for m in sizes), None)


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


def _usual(words: tuple[str, ...]) -> tuple[str, ...]:
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


def _tokens(words: tuple[str, ...]) -> list[_Token]:
    found = parser().within(words, ("amount", "whole", "dozens"))
    taken: list[_Token] = []
    for begin, end in sorted(found.get("amount", ()), key=lambda s: s[0] - s[1]):
        said = words[begin:end]
        if said[-1] in _VOLUME and not _overlap(taken, begin, end):
            taken += _sizes(begin, end, words)
    for rule in ("dozens", "whole"):
        for begin, end in sorted(found.get(rule, ()), key=lambda s: s[0] - s[1]):
            if not _overlap(taken, begin, end) and words[begin] != "oh":
                taken.append(_Token("count", begin, end, words[begin:end]))
    for n, word in enumerate(words):
        if word in _BOTTLE:
            taken.append(_Token("bottle", n, n + 1, (word,)))
        elif word == "another" and not _overlap(taken, n, n + 1):
            taken.append(_Token("count", n, n + 1, ("one",)))
    return sorted(taken, key=lambda t: t.begin)


def _sizes(begin: int, end: int, words: tuple[str, ...]) -> list[_Token]:
    """One size; "ten pint bottles" are ten of a pint."""
    said = words[begin:end]
    ahead = words[end : end + 1]
    one_of = said[-1] in ("pint", "litre", "liter") and bool(ahead) and ahead[0] in _BOTTLE
    many = said[-1] in ("pints", "litres", "liters") and not (ahead and ahead[0] in _BOTTLE)
    if len(said) == 2 and (one_of or many) and said[0] not in _ONE_OR_LESS:
        unit = ("one", said[-1].rstrip("s"))
        return [_Token("count", begin, end - 1, said[:-1]), _Token("size", end - 1, end, unit)]
    return [_Token("size", begin, end, said)]


def _overlap(taken: list[_Token], begin: int, end: int) -> bool:
    return any(begin < t.end and t.begin < end for t in taken)


def _paired(
    tokens: list[_Token], words: tuple[str, ...], before: tuple[str, ...]
) -> tuple[list[tuple[str, ...]] | None, tuple[str, ...]]:
    """Each count with its size; None where a count's size is only "small"."""
    found: list[tuple[str, ...]] = []
    size = before
    for n, token in enumerate(tokens):
        if token.kind != "count" or _is_size(n, tokens, words):
            continue
        after = tokens[n + 1 : n + 3]
        until = next((t.begin for t in tokens[n + 1 :] if t.kind == "count"), len(words))
        own = next((t for t in after if t.kind == "size"), None)
        bare = next((t for m, t in enumerate(tokens) if m > n and _is_size(m, tokens, words)), None)
        own = own or bare
        said = () if own is None else _with_unit(own)
        if own is None and _SIZED.search(" ".join(words[token.begin : until])):
            return None, size
        filled = _FILLED.search(" ".join(words)) and n == len(tokens) - 1
        if own is None and not filled and not any(t.kind == "bottle" for t in after[:1]):
            continue
        size = said or size
        end = ("of", *said) if said else ()
        found.append((*_spelled(token.words), "bottles", *end))
    return found, size


def _size_behind(parts: list[Part], tokens: list[_Token], words: tuple[str, ...]) -> bool:
    """ "Nine bottles, half a litre each": gives the last count its size, if there is one."""
    sizes = [t for t in tokens if t.kind == "size"] or _each(tokens, words)
    if len(sizes) != 1 or not parts or parts[-1].words[-1] != "bottles":
        return False
    parts[-1] = replace(parts[-1], words=(*parts[-1].words, "of", *_with_unit(sizes[0])))
    return True


def _each(tokens: list[_Token], words: tuple[str, ...]) -> list[_Token]:
    """ "500 each": a plain number of millilitres."""
    return [t for t in tokens if t.kind == "count" and "each" in words and _in_ml(t.words)]


def _counts(tokens: list[_Token]) -> bool:
    return any(token.kind == "count" for token in tokens)


def _left_over(found: list[tuple[str, ...]], tokens: list[_Token], words: tuple[str, ...]) -> bool:
    """Whether there is a number besides that is neither a count nor a size of these bottles."""
    counts = [
        t for n, t in enumerate(tokens) if t.kind == "count" and not _is_size(n, tokens, words)
    ]
    return bool(found) and len(counts) > len(found)


def _is_size(n: int, tokens: list[_Token], words: tuple[str, ...]) -> bool:
    """A plain number after "of" or "times" behind a count is a size in millilitres."""
    token = tokens[n]
    if token.kind != "count" or token.begin == 0 or n == 0:
        return False
    led = words[token.begin - 1] in ("of", "times", "at") or tokens[n - 1].end == token.begin
    return led and tokens[n - 1].kind in ("count", "bottle") and _in_ml(token.words)


def _in_ml(words: tuple[str, ...]) -> bool:
    """Whether a plain number is a size in millilitres: a hundred or more."""
    return any(value[0] >= 100 for value in parser().values(words, "whole"))


def _with_unit(token: _Token) -> tuple[str, ...]:
    return token.words if token.kind == "size" else (*token.words, "millilitres")


def _spelled(count: tuple[str, ...]) -> tuple[str, ...]:
    dozens = {("a", "dozen"): "twelve", ("dozen",): "twelve", ("two", "dozen"): "twenty four",
              ("half", "a", "dozen"): "six", ("three", "dozen"): "thirty six"}  # fmt: skip
    return tuple(dozens.get(count, " ".join(count)).split())
