"""The quantities of a sentence, each with the thing that it is of and how it is meant."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Literal

from assistant.understand.told.clauses import Clause
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.spans import Named, Quantity, quantities, things
from assistant.understand.told.stance import FILE, Stance
from assistant.understand.told.talk import Talk

_COMPARED = re.compile(
    r"(extra|to go|left|short|too much|too many|too little|over|under|below|above|off|more than"
    r"|less than"
    r"|higher|lower|hotter|colder|missing|away|more to|difference)\b"
)
_VESSELS = frozenset(
    ("jug", "pan", "pot", "bowl", "tub", "bucket", "scale", "kettle", "container", "jar")
)
_TIMES = frozenset(("second", "seconds", "minute", "minutes", "hour", "hours", "days", "weeks"))
_COUNTED = frozenset(("punnets", "bags", "bag", "punnet", "crate", "box", "heads", "o'clock"))


@dataclass(frozen=True)
class Found:
    """A quantity in its clause, with what it is of."""

    quantity: Quantity
    clause: int
    thing: Named | None
    thing_words: tuple[str, ...]
    stance: Stance | Literal["count", "compared"]
    unknown: int
    bounded: str = ""


def found_in(talk: Talk) -> list[Found]:
    """Every quantity of the sentence with the thing that it is of."""
    return [one for n in range(len(talk.clauses)) for one in _in_clause(talk, n)]


def _in_clause(talk: Talk, n: int) -> list[Found]:
    clause, words = talk.clauses[n], talk.clauses[n].words
    named, amounts = list(things(words)), quantities(words)
    if any(one.end == other.begin for one, other in pairwise(amounts)):
        return [Found(q, n, None, (), "count", 0) for q in amounts]
    found = []
    for at, q in enumerate(amounts):
        before = amounts[at - 1].end if at else 0
        after = amounts[at + 1].begin if at + 1 < len(amounts) else len(words)
        thing = _thing_of(q, named, before, after)
        if thing in named:
            named.remove(thing)
        if _counts_things(q, words, thing):
            found.append(Found(q, n, None, (), "count", 0))
            continue
        said = () if thing is None else words[thing.begin : thing.end]
        unknown = strangers(clause, [*amounts], [*things(words)])
        stance = "compared" if _compared(words, q) else talk.stances[n]
        if stance == "plan" and _decides_now(talk):
            stance = "fact"
        bounded = _bounded(clause, q) or _and_a_bit(talk, n, q)
        found.append(Found(q, n, thing, said, stance, unknown, bounded))
    return found


def _compared(words: tuple[str, ...], q: Quantity) -> bool:
    """ "40 ml extra", "ten degrees to go": how far from something, not how much there is."""
    after = " ".join(words[q.end : q.end + 3])
    return bool(_COMPARED.match(after))


def _decides_now(talk: Talk) -> bool:
    """How much water is a choice: what the cook is going to take is what counts."""
    return talk.asked.kind == "measure" and talk.asked.about == "water"


def _and_a_bit(talk: Talk, n: int, q: Quantity) -> str:
    """ "Two and a bit kilos": the bit stands in the next clause."""
    last = q.end >= len(talk.clauses[n].words) - 1
    after = talk.clauses[n + 1].words[:2] if n + 1 < len(talk.clauses) and last else ()
    return "above" if after in _A_BIT else ""


_A_BIT = (("a", "bit"), ("a", "little"), ("something",), ("some",), ("a", "half"), ("then", "some"))


def _thing_of(q: Quantity, named: Sequence[Named], before: int, after: int) -> Named | None:
    behind = [t for t in named if q.end <= t.begin <= min(q.end + 3, after - 1)]
    ahead = [t for t in named if before <= t.begin and t.end <= q.begin]
    far = [t for t in named if t.begin >= q.end and t.begin < after]
    return next(iter(behind or ahead[::-1] or far), None)


def _counts_things(q: Quantity, words: tuple[str, ...], thing: Named | None) -> bool:
    """ "14 limes", "three batches": how many of something, not how much."""
    if q.end >= len(words):
        return False
    after = words[q.end]
    if q.kind == "amount" and after in _VESSELS:
        return True
    if q.kind != "bare":
        return False
    if thing is not None and thing.begin == q.end and thing.what == "fruit":
        return True
    if set(words[q.end : q.end + 2]) & _TIMES or words[q.end : q.end + 2] == ("of", "them"):
        return True
    plural = after.endswith("s") and len(after) > 3 and after not in known()
    return plural or after in _COUNTED


def _bounded(clause: Clause, q: Quantity) -> str:
    """ "below" or "above" where the number is only a bound of what there is."""
    ahead = " ".join(clause.words[max(0, q.begin - 5) : q.begin])
    for side in ("below", "above"):
        for match in pattern(FILE, "stance", side).finditer(ahead):
            if len(ahead[match.end() :].split()) <= 1:
                return side
    behind = " ".join(clause.words[q.end : q.end + 3])
    if re.match(r"(something|odd|plus|ish|and a bit|and something|or more|and a little)\b", behind):
        return "above"
    return "below" if re.match(r"(nearly|almost|or less)\b", behind) else ""


@cache
def known() -> frozenset[str]:
    """The words that change nothing beside a number."""
    names = ("fillers", "grammar", "instruments")
    return frozenset(w for name in names for w in listed(FILE, "known", name))


def strangers(clause: Clause, amounts: Sequence[Quantity], named: Sequence[Named]) -> int:
    """How many words beside the numbers and things nobody knows."""
    spans = [(q.begin, q.end) for q in amounts] + [(t.begin, t.end) for t in named]
    inside = {n for begin, end in spans for n in range(begin, end)}
    bounds = {w for side in ("below", "above") for w in _words_of(side, clause.text)}
    fine = known() | bounds
    return sum(n not in inside and w not in fine for n, w in enumerate(clause.words))


def _words_of(side: str, text: str) -> set[str]:
    return {w for m in pattern(FILE, "stance", side).finditer(text) for w in m[0].split()}
