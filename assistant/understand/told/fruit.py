"""Fruit that is told of by more than a weight: several kinds, frozen, with stones, counted, more.

"500 g raspberries and 300 g blackberries", "three kilos of plums with the stones in", "four punnets
of strawberries", "another 400 grams of raspberries". A plain weight of one fruit is left to
`readings`.
"""

import re
from dataclasses import dataclass, replace

from assistant.base.units import dimension, to_base
from assistant.facts.events import Reading, Weighed
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.told.found import known
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.part import Part
from assistant.understand.told.spans import Named, Quantity, quantities, things
from assistant.understand.told.stance import FILE, Stance
from assistant.understand.told.talk import Talk

_STONES_IN = re.compile(
    r"\b(with|including|counting) (all )?(the |their )?(stones|stone|pits|pit)\b(?! out)"
    r"|\b(stones|pits) (are )?(still )?(in|included)\b|\b(unpitted|unstoned)\b"
)
_STONES_OUT = re.compile(
    r"\bwithout (the |their |any )?(stones|pits)\b|\b(stones|pits) (are )?(out|removed)\b"
    r"|\b(pitted|stoned|destoned)\b"
)
_FROZEN = re.compile(r"\b(frozen|(from|out of) the freezer|still icy)\b")
_ALL_FROZEN = re.compile(r"\b(all|both) (of (it|them) )?(are )?(frozen|from the freezer)\b")
_MORE = re.compile(
    r"\b(another|more|extra|as well|also|too|on top|besides|plus|in addition|further)\b"
)
_PUNNETS = frozenset(("punnet", "punnets"))
_OURS = frozenset(listed("words.toml", "small", "beside_fruit"))
_MOST_STRANGE = 2
"""Words nobody knows beside the fruit, up to which it is asked about (common practice, no
source)."""


NO_FACT: tuple[Stance, ...] = (
    "question", "plan", "condition", "denial", "hearsay", "past", "elsewhere", "guess",
)  # fmt: skip
"""Stances of a clause beside which no weight is taken."""


@dataclass(frozen=True)
class _Item:
    """One amount with the fruit that it is of, as far as said, and the words about it."""

    value: float
    unit: str
    fruit: str | None
    each: str
    text: str
    strangers: tuple[str, ...]


def fruit_parts(talk: Talk) -> list[Part]:
    """The weights as one reading, a doubt where one or a name is missing; [] for none of it."""
    asked = talk.asked
    had = "fruit" in asked.had
    if not (had or asked.about in ("fruit", "juice")) or puts_right(talk):
        return []
    if talk.having(*NO_FACT):
        return []
    items = _items(talk)
    if not items:
        return []
    named = {one.fruit for one in items if one.fruit}
    more = had and bool(_MORE.search(talk.text))
    if not (_says_more(items, talk) or len(named) > 1 or more or (had and named - _in_it(talk))):
        return []
    if asked.about == "juice" and not any(one.each for one in items):
        return []
    unnamed = [one for one in items if one.fruit is None and one.strangers]
    if unnamed:  # "300 g of medlars": a fruit nobody knows is none of those that are known
        return [Part(doubt=("unknown_fruit", (("fruit", unnamed[0].strangers[-1]),)), what="fruit")]
    whole = _with_names(items, named, talk)
    if whole is None:
        return [Part(doubt=("two_fruits", ()), what="fruit")]
    return [_part(whole, talk, more or had)]


def puts_right(talk: Talk) -> bool:
    """Whether it puts right what was told before."""
    lead = talk.clauses[0].words[:1] if talk.clauses else ()
    return lead == ("no",) or bool(pattern(FILE, "stance", "repair").search(talk.text))


def _in_it(talk: Talk) -> set[str]:
    return {*talk.asked.mixture, talk.asked.fruit}


def _says_more(items: list[_Item], talk: Talk) -> bool:
    text = talk.text
    return any(one.each for one in items) or bool(_FROZEN.search(text) or _STONES_IN.search(text))


def _items(talk: Talk) -> list[_Item]:
    """Every amount of the sentence; [] where one is of something else, or only may be."""
    if re.search(r"\bor\b", talk.said):
        return []
    found: list[_Item] = []
    for clause in talk.clauses:
        amounts = quantities(clause.words)
        for at, q in enumerate(amounts):
            begin = amounts[at - 1].end if at else 0
            end = amounts[at + 1].begin if at + 1 < len(amounts) else len(clause.words)
            one = _item(q, clause.words, begin, end)
            if one is None:
                return []
            found.append(one)
        if not amounts and found:
            found[-1] = replace(found[-1], text=f"{found[-1].text} {clause.text}")
    return found


def _item(q: Quantity, words: tuple[str, ...], begin: int, end: int) -> _Item | None:
    named = [t for t in things(words) if begin <= t.begin < end]
    if any(t.what != "fruit" for t in named):
        return None
    behind = [t for t in named if t.begin >= q.end]
    thing = next(iter(behind or named[::-1]), None)
    amount = next((p.meant for p in parse(q.words) if isinstance(p.meant, Amount)), None)
    if amount is None or amount.short or amount.value <= 0:
        return None
    each = _each(q, words, thing)
    weighed = q.kind == "amount" and amount.unit and dimension(amount.unit) == "mass"
    if not weighed and not each:
        return None
    own = {n for t in named for n in range(t.begin, t.end)} | set(range(q.begin, q.end))
    beside = (w for n, w in enumerate(words[begin:end], begin) if n not in own)
    strange = tuple(w for w in beside if w not in known() | _OURS)
    unit = "count" if each else str(amount.unit)
    text = " ".join(words[begin:end])
    return _Item(float(amount.value), unit, thing.fruit if thing else None, each, text, strange)


def _each(q: Quantity, words: tuple[str, ...], thing: Named | None) -> str:
    """What is counted: punnets, or the fruit that is named right behind; "" where it is weighed."""
    if q.kind != "bare":
        return ""
    if words[q.end : q.end + 1] and words[q.end] in _PUNNETS:
        return "punnet"
    between = words[q.end : thing.begin] if thing and thing.fruit else None
    if between is not None and thing and thing.begin >= q.end and set(between) <= _OURS:
        return "piece" if words[thing.end - 1].endswith("s") else ""
    return ""


def _with_names(items: list[_Item], named: set[str], talk: Talk) -> list[_Item] | None:
    """Each with its fruit; None where it is not clear which one is meant."""
    known_one = next(iter(named)) if len(named) == 1 else None
    only = talk.asked.fruits[0] if len(talk.asked.fruits) == 1 else None
    before = talk.asked.fruit if not talk.asked.mixture else None
    alone = known_one or (None if named else before or only)
    whole = [one if one.fruit else replace(one, fruit=alone) for one in items]
    return whole if all(one.fruit for one in whole) else None


def _part(items: list[_Item], talk: Talk, more: bool) -> Part:
    twice = len(items) == 2 and items[0].fruit == items[1].fruit
    nets = [one for one in items if _STONES_OUT.search(one.text)]
    if twice and len(nets) == 1:  # weighed with and without: what was weighed without counts
        items = nets
    parts = tuple(_weighed(one, talk) for one in items)
    grams = all(not one.each for one in parts)
    value = sum(to_base(p.value, p.unit) if grams else p.value for p in parts)
    event = Reading(
        at=talk.at,
        heard=talk.text,
        what="fruit",
        value=value,
        unit="g" if grams else "count",
        parts=parts,
        more=more,
    )
    strange = sum(len(one.strangers) for one in items)
    if strange > _MOST_STRANGE:
        return Part(doubt=("two_fruits", ()), what="fruit")
    asked_for = not more or bool(_MORE.search(talk.text))
    return Part(events=(event,), sure=not strange and asked_for, what="fruit")


def _weighed(one: _Item, talk: Talk) -> Weighed:
    frozen = bool(_FROZEN.search(one.text) or _ALL_FROZEN.search(talk.text))
    stones = bool(_STONES_IN.search(one.text)) and not _STONES_OUT.search(one.text)
    fields = {"fruit": one.fruit, "value": one.value, "unit": one.unit, "each": one.each}
    return Weighed.model_validate({**fields, "frozen": frozen, "stones": stones})
