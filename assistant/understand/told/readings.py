"""Weights, volumes, temperatures, pH and Brix that a sentence tells as facts."""

import re
from dataclasses import replace

from assistant.understand.told.doubts import not_measured, strange_measure, unknown_fruit
from assistant.understand.told.found import Found, found_in
from assistant.understand.told.groups import tells_of
from assistant.understand.told.level import SOUR, SWEET, WARM, level_told
from assistant.understand.told.lexicon import pattern
from assistant.understand.told.merging import as_correction, one_each
from assistant.understand.told.ours import can_be_ours
from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.stance import FILE
from assistant.understand.told.talk import LEVELS, Talk
from assistant.understand.told.wording import around, canonical, unit_of, which_thing

_POWDERS = ("sugar", "citric_acid", "ascorbic_acid", "sorbate", "malic_acid", "gum_arabic")
_LARGE_SPOONS = frozenset(("cup", "pint", "l"))


def reading_parts(talk: Talk) -> list[Part]:
    """What the sentence tells as readings; doubts among them where it is no clear reading."""
    found = found_in(talk)
    if talk.asked.kind == "bottle" and re.search(r"\b(bottles?|jars?|ones|each)\b", talk.text):
        return []
    fruits = _fruits(talk)
    if len(fruits) > 1 and talk.asked.about == "fruit":
        return [Part(doubt=("two_fruits", ()), what="fruit")]
    strange = strange_measure(talk)
    if strange is not None and not any(o.quantity.kind == "amount" for o in found):
        return [Part(doubt=strange)]
    amended = _amended(talk, found)
    facts = [
        o
        for o in found
        if o.stance == "fact" or (amended and (o.stance == "past" or _put_right(o, talk)))
    ]
    if not facts:
        return not_measured(talk, found)
    with_unit = [one for one in facts if one.quantity.kind != "bare" or _named_bare(one, talk)]
    chosen = [one for one in facts if one.quantity.kind != "bare"] or with_unit or facts
    chosen += [o for o in with_unit if o not in chosen and _level(o, talk)]
    chosen += _levels_beside(facts, chosen, talk)
    chosen.sort(key=lambda one: (one.clause, one.quantity.begin))
    loose = len(_numbers_of(found, talk)) > len(chosen)
    chosen = _refined(chosen, facts, talk)
    parts = [_part(one, talk, amended) for one in chosen]
    kept = one_each([part for part in parts if part is not None], talk)
    clear = not loose and None not in parts and all(s in _CLEAR for s in talk.stances)
    return [replace(part, sure=part.sure and clear) for part in kept]


_WRONG = re.compile(r"\b(was wrong|is wrong|wrong number|false|my mistake)\b")


def _put_right(one: Found, talk: Talk) -> bool:
    """ "What I gave you was wrong, it should be 3.6"."""
    planned = one.stance in ("plan", "guess") and "should" in talk.clauses[one.clause].words
    return planned and bool(_WRONG.search(talk.text))


_CLEAR = ("fact", "plan", "question", "past")
"""Beside clauses of another stance a fact is asked about: they may take it back."""


def _numbers_of(found: list[Found], talk: Talk) -> list[Found]:
    """The numbers that could be meant, a rejected one ("not seventy") and counts of fruit aside."""
    return [
        one
        for one in found
        if not (talk.clauses[one.clause].words[0] == "not" and one.quantity.begin == 1)
        and not (one.stance == "count" and _counts_fruit(one, talk))
    ]


def _counts_fruit(one: Found, talk: Talk) -> bool:
    words = talk.clauses[one.clause].words
    return any(t.begin == one.quantity.end for t in things(words))


def _refined(chosen: list[Found], facts: list[Found], talk: Talk) -> list[Found]:
    """ "Just over two kilos, 2.1": the number that says it exactly, in the unit of the other."""
    bare = [one for one in facts if one.quantity.kind == "bare" and one.thing is None]
    if len(chosen) != 1 or len(bare) != 1 or chosen[0] in bare:
        return chosen
    one, exact = chosen[0], bare[0]
    if not (one.bounded or re.search(r"\b(exact|exactly|precisely|precise)\b", talk.text)):
        return chosen
    words = (*exact.quantity.words, one.quantity.words[-1])
    found = [q for q in quantities(words) if q.kind == "amount" and q.words == words]
    if not found:
        return chosen
    return [replace(one, quantity=replace(one.quantity, words=words), bounded="")]


def _fruits(talk: Talk) -> set[str]:
    named = (t.fruit for n in talk.having("fact") for t in things(talk.clauses[n].words))
    return {fruit for fruit in named if fruit}


def _level(one: Found, talk: Talk) -> bool:
    """A bare pH, Brix or temperature beside amounts."""
    text = talk.clauses[one.clause].text
    if _at(one, talk) and talk.asked.find("temperature") is not None and talk.first != "ph":
        return one.thing is None
    return one.thing is None and bool(SOUR.search(text) or SWEET.search(text) or WARM.search(text))


def _levels_beside(facts: list[Found], chosen: list[Found], talk: Talk) -> list[Found]:
    """A bare level beside an amount: "... and it's up at forty", "22 grams in, now 3.9"."""
    left = [o for o in facts if o not in chosen and o.thing is None]
    amounts = [o for o in chosen if o.quantity.kind == "amount"]
    if len(left) != 1 or not amounts:
        return []
    if _level(left[0], talk):
        return left
    first = which_thing(amounts[0], talk)[0]
    asked_for = talk.first in LEVELS and first is not None and first.what != talk.first
    return left if asked_for and left[0].clause != amounts[0].clause else []


def _named_bare(one: Found, talk: Talk) -> bool:
    text = talk.clauses[one.clause].text
    return bool(one.thing or SOUR.search(text) or SWEET.search(text) or WARM.search(text))


def _amended(talk: Talk, found: list[Found]) -> bool:
    """Whether the sentence puts something right: "not 2.4", "my mistake"."""
    rejected = any(
        talk.clauses[one.clause].words[0] == "not" and one.quantity.begin == 1 for one in found
    )
    repair = pattern(FILE, "stance", "repair")
    lead = talk.clauses[0].words[:1] if talk.clauses else ()
    return rejected or bool(repair.search(talk.text)) or lead == ("no",)


def _part(one: Found, talk: Talk, amended: bool) -> Part | None:
    clause = talk.clauses[one.clause]
    q = one.quantity
    if pattern(FILE, "elsewhere", "not_ours").search(clause.text) and one.thing is None:
        return None
    if one.unknown > (_MOST_STRANGE_BARE if q.kind == "bare" else _MOST_STRANGE):
        return None
    doubt = _doubt(one, talk, amended)
    if doubt is not None:
        return doubt
    if not can_be_ours(one, talk):
        return None
    words, what = canonical(one, *which_thing(one, talk), talk)
    alone = amended and bool(talk.asked.had) and _says_no_more(one, talk)
    if alone:
        words, what = ("i", "meant", *q.words), ""
    if words is None:
        return None
    if one.bounded == "below" or (one.bounded == "above" and what in LEVELS):
        return Part(doubt=(one.bounded, (("said", " ".join(q.words)),)), what=what)
    unfinished = clause.mark.startswith(("..", "…", "-", "?"))
    other = (
        q.kind == "bare" and one.thing is not None and what == "temperature" and not _at(one, talk)
    )
    sure = not (one.unknown or unfinished or one.bounded or other or _unnamed(one, what, talk))
    part = Part(words, sure=sure, what=what)
    return part if alone else as_correction(part, talk, amended)


def _says_no_more(one: Found, talk: Talk) -> bool:
    """A number alone that puts something right: of what was told last, whatever is asked now."""
    text = around(one, talk)
    if one.quantity.kind != "bare" or which_thing(one, talk)[0] is not None or _at(one, talk):
        return False
    told = SOUR.search(text) or SWEET.search(text) or WARM.search(text)
    return not told and not level_told(text, one.quantity.words)


def _unnamed(one: Found, what: str, talk: Talk) -> bool:
    """ "It's down to 43" before any thermometer was called, "meter says 4.7": asked about."""
    told = level_told(around(one, talk), one.quantity.words)
    if one.quantity.kind != "bare" or talk.first == what or told != what:
        return False
    called = talk.asked.find("temperature") if what == "temperature" else None
    return called is None or called.last is None


def _at(one: Found, talk: Talk) -> bool:
    """ "The juice is at forty": a level, whatever it is of."""
    words, begin = talk.clauses[one.clause].words, one.quantity.begin
    return begin > 0 and words[begin - 1] in ("at", "to")


_MOST_STRANGE, _MOST_STRANGE_BARE = 4, 2
"""Words nobody knows beside an amount, or a bare number, up to which it is asked about (common
practice, no source)."""


def _doubt(one: Found, talk: Talk, amended: bool) -> Part | None:
    """Fruit that the recipe is not made for, powder by the cup."""
    q = one.quantity
    thing, said = which_thing(one, talk)
    strange = unknown_fruit(q, talk.clauses[one.clause].words, thing, talk)
    if strange:
        return Part(doubt=("unknown_fruit", (("fruit", strange),)))
    what = thing.what if thing else talk.first
    by_volume = q.kind == "amount" and what in _POWDERS and unit_of(q) in _LARGE_SPOONS
    by_volume = by_volume and not tells_of("strain", talk.clauses[one.clause].text)
    if by_volume and (thing is not None or not amended):
        facts = (("said", " ".join(q.words)), ("what", what.replace("_", " ")))
        return Part(doubt=("by_volume", facts))
    fruit = thing.fruit if thing else None
    meant = (*talk.asked.fruits, talk.asked.fruit)
    if fruit and talk.asked.about == "fruit" and fruit not in meant:
        other = (("fruit", " ".join(said)), ("amount", " ".join(q.words)))
        return Part(doubt=("other_fruit", other))
    return None
