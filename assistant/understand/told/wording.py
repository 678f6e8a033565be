"""A quantity that was told, in the grammars' own words."""

import re
from collections.abc import Callable

from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.told.clauses import Clause
from assistant.understand.told.found import Found
from assistant.understand.told.groups import tells_of
from assistant.understand.told.level import SOUR, SWEET, WARM, level_told
from assistant.understand.told.spans import Named, Quantity, quantities, things
from assistant.understand.told.talk import LEVELS, Talk

_SCALE = re.compile(r"\b(fahrenheit|celsius|centigrade)\b")
_TO_SAY = {"citric_acid": "citric acid", "ascorbic_acid": "ascorbic acid", "yield": "syrup"}
_MEASURED = re.compile(
    r"\b(weigh\w*|comes?|came|measures?|scales?|made|makes|got|says|shows|reads|jug|is)\b"
)
_WEIGHED = ("fruit", "juice", "sugar", "yield", "water")
_IN_THE_PAN = ("juice", "yield", "fruit", "water")
_UNREAD = ("vinegar", "malic_acid", "gum_arabic")
"""Things whose amount is not taken from a cook yet."""


def which_thing(one: Found, talk: Talk) -> tuple[Named | None, tuple[str, ...]]:
    """The thing in the clause, else the one named just before without an amount of its own."""
    if one.thing is not None:
        return one.thing, one.thing_words
    for n in range(one.clause - 1, max(-1, one.clause - 3), -1):
        words = talk.clauses[n].words
        named = things(words)
        if quantities(words) or talk.stances[n] in ("question", "denial", "elsewhere"):
            break
        if named:
            return named[-1], words[named[-1].begin : named[-1].end]
    return _fruit_behind(one, talk)


def _fruit_behind(one: Found, talk: Talk) -> tuple[Named | None, tuple[str, ...]]:
    """ "2400 grams, blackcurrants": the fruit named right after its weight."""
    n = one.clause + 1
    if talk.asked.about != "fruit" or n >= len(talk.clauses):
        return None, ()
    words = talk.clauses[n].words
    named = [t for t in things(words) if t.fruit]
    if len(named) != 1 or quantities(words) or talk.stances[n] != "fact" or len(words) > 4:
        return None, ()
    return named[0], words[named[0].begin : named[0].end]


def canonical(
    one: Found, thing: Named | None, said: tuple[str, ...], talk: Talk
) -> tuple[tuple[str, ...] | None, str]:
    q, clause = one.quantity, talk.clauses[one.clause]
    if q.kind == "degrees":
        scale = _SCALE.search(talk.text)
        own = any(w in ("fahrenheit", "celsius", "centigrade", "f", "c") for w in q.words)
        return (*q.words, *((scale[0],) if scale and not own else ())), "temperature"
    if q.kind in ("amount", "dose"):
        return _amount_words(q, thing or _dripped(q, one, talk), said or ("juice",), talk)
    return _bare_words(one, clause, thing, said, talk)


def _dripped(q: Quantity, one: Found, talk: Talk) -> Named | None:
    """ "2.4 litres dripped out" is juice, whatever else is asked for."""
    told = tells_of("strain", talk.clauses[one.clause].text)
    if not told or dimension_of(q) != "volume" or talk.first in ("juice", "yield"):
        return None
    return Named(q.begin, q.end, "juice")


def _amount_words(
    q: Quantity, thing: Named | None, said: tuple[str, ...], talk: Talk
) -> tuple[tuple[str, ...] | None, str]:
    kind = dimension_of(q)
    if thing is not None and thing.what == "fruit" and kind != "mass":
        thing = None
    if thing is None:
        return q.words, _awaited_in(kind, talk)
    if thing.what == "fruit" and thing.fruit is None:
        return (*q.words, "of", "fruit"), "fruit"
    named = (_TO_SAY.get(thing.what, thing.what),) if thing.what != "fruit" else said
    if thing.what in _UNREAD:
        return None, thing.what
    return (*q.words, "of", *" ".join(named).split()), thing.what


def _awaited_in(kind: str, talk: Talk) -> str:
    """What an amount of no named thing is of: the first awaited that it can be."""
    kinds = {"mass": ("g", "kg"), "volume": ("ml", "l"), "dose": ("g/l",)}[kind]
    return next((a.what for a in talk.asked.awaited if set(kinds) & set(a.units)), "")


def _bare_words(
    one: Found, clause: Clause, thing: Named | None, said: tuple[str, ...], talk: Talk
) -> tuple[tuple[str, ...] | None, str]:
    q, text, first = one.quantity, around(one, talk), talk.first
    scale = _SCALE.search(talk.text)
    others = {t.fruit for t in things(clause.words)} - {None, talk.asked.fruit}
    if others and (SOUR.search(text) or first in LEVELS):
        return None, ""
    level = level_told(text, q.words) if thing is None else ""
    if level and level != first != "brix":
        return _AS_LEVEL[level](q.words), level
    sour = SOUR.search(text) or (first == "ph" and not WARM.search(text))
    if sour and not (SWEET.search(text) and not SOUR.search(text)):
        return ("p", "h", *q.words), "ph"
    if SWEET.search(text) or (first == "brix" and not WARM.search(text)):
        return (*q.words, "brix"), "brix"
    led = clause.words[one.quantity.begin - 1 : one.quantity.begin]
    at = led == ("at",) and thing is None and talk.asked.find("temperature") is not None
    if scale or at or WARM.search(text) or (first == "temperature" and thing is None):
        return (*q.words, "degrees", *((scale[0],) if scale else ())), "temperature"
    if first == "temperature" and thing is not None and thing.what in _IN_THE_PAN:
        return (*q.words, "degrees"), "temperature"
    if thing is not None:
        name = _TO_SAY.get(thing.what, thing.what) if thing.what != "fruit" else " ".join(said)
        return ("the", *name.split(), "is", *q.words), thing.what
    if first in _WEIGHED and (_measuring(text) or one.unknown == 0):
        return q.words, first
    return None, ""


_AS_LEVEL: dict[str, Callable[[tuple[str, ...]], tuple[str, ...]]] = {
    "temperature": lambda number: (*number, "degrees"),
    "ph": lambda number: ("p", "h", *number),
    "brix": lambda number: (*number, "brix"),
}


def around(one: Found, talk: Talk) -> str:
    """The clause of a number with those beside it that hold neither number nor thing: "66 and
    climbing", "on the hob, forty"."""
    n, told = one.clause, talk.clauses
    first = last = n
    while first > 0 and _is_empty(told[first - 1]) and told[first - 1].sentence == told[n].sentence:
        first -= 1
    while last + 1 < len(told) and _is_empty(told[last + 1]):
        last += 1
    return " ".join(clause.text for clause in told[first : last + 1])


def _is_empty(clause: Clause) -> bool:
    return not quantities(clause.words) and not things(clause.words)


def _measuring(text: str) -> bool:
    return bool(_MEASURED.search(text))


def dimension_of(q: Quantity) -> str:
    unit = unit_of(q)
    if unit in ("kg", "g", "mg", "lb", "oz"):
        return "mass"
    return "dose" if unit == "g/l" else "volume"


def unit_of(q: Quantity) -> str | None:
    meant = [p.meant for p in parse(q.words)]
    return next((m.unit for m in meant if isinstance(m, Amount)), None)
