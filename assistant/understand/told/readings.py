"""Weights, volumes, temperatures, pH and Brix that a sentence tells as facts."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from assistant.base.units import dimension, to_base
from assistant.facts.asked import Asked
from assistant.facts.events import Correct
from assistant.understand.meaning import Amount
from assistant.understand.parsing import parse, parser
from assistant.understand.told.clauses import Clause
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.part import Note, Part
from assistant.understand.told.spans import Named, Quantity, quantities, things
from assistant.understand.told.stance import FILE, Stance
from assistant.understand.words import to_words

_WARM = re.compile(
    r"\b(thermometer|temperature|temp|thermo|probe|needle|warm|hot|heat|flame|degrees|climbing|rising"
    r"|boiling|cooled|cooling|dropped|heating|simmer\w*)\b"
)
_SCALE = re.compile(r"\b(fahrenheit|celsius|centigrade)\b")
_SOUR = re.compile(r"\b(p h|ph|acidity|ph meter|strip)\b")
_SWEET = re.compile(r"\b(brix|refractometer)\b")
_POWDERS = ("sugar", "citric_acid", "ascorbic_acid", "sorbate", "malic_acid", "gum_arabic")
_LARGE_SPOONS = frozenset(("cup", "pint", "l"))
_TO_SAY = {"citric_acid": "citric acid", "ascorbic_acid": "ascorbic acid", "yield": "syrup"}
_COMPARED = re.compile(
    r"(extra|to go|left|short|too much|too many|too little|over|under|below|above|off|more than|less than"
    r"|higher|lower|hotter|colder|missing|away|more to|difference)\b"
)
_NOT_UNITS = frozenset(
    "of times by bottles bottle jars jar and more is are in at out or to too off now only exactly yet"
    " then please percent minutes minute hours hour seconds days weeks on up down for from with as".split()
)


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


@dataclass(frozen=True)
class Talk:
    """A sentence, clause by clause, with the stance of each and what is being asked."""

    clauses: tuple[Clause, ...]
    stances: tuple[Stance, ...]
    asked: Asked
    at: datetime

    @property
    def text(self) -> str:
        """All of its words."""
        return " ".join(c.text for c in self.clauses)

    def having(self, *wanted: Stance) -> list[int]:
        """The places of the clauses with one of these stances."""
        return [n for n, stance in enumerate(self.stances) if stance in wanted]


def found_in(talk: Talk) -> list[Found]:
    """Every quantity of the sentence with the thing that it is of."""
    return [one for n in range(len(talk.clauses)) for one in _in_clause(talk, n)]


def _in_clause(talk: Talk, n: int) -> list[Found]:
    clause, words = talk.clauses[n], talk.clauses[n].words
    named, amounts = list(things(words)), quantities(words)
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
        found.append(Found(q, n, thing, said, stance, unknown, _bounded(clause, q)))
    return found


def _compared(words: tuple[str, ...], q: Quantity) -> bool:
    """ "40 ml extra", "ten degrees to go": how far from something, not how much there is."""
    after = " ".join(words[q.end : q.end + 3])
    return bool(_COMPARED.match(after))


def _decides_now(talk: Talk) -> bool:
    """How much water is a choice: what the cook is going to take is what counts."""
    return talk.asked.kind == "measure" and talk.asked.about == "water"


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
    plural = after.endswith("s") and len(after) > 3 and after not in _known()
    return plural or after in ("punnets", "bags", "bag", "punnet", "crate", "box", "heads", "o'clock")


_VESSELS = frozenset(("jug", "pan", "pot", "bowl", "tub", "bucket", "scale", "kettle", "container", "jar"))


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


_KNOWN: list[frozenset[str]] = []


def _known() -> frozenset[str]:
    if not _KNOWN:
        names = ("fillers", "grammar", "instruments")
        _KNOWN.append(frozenset(w for name in names for w in listed(FILE, "known", name)))
    return _KNOWN[0]


def strangers(clause: Clause, amounts: Sequence[Quantity], named: Sequence[Named]) -> int:
    """How many words beside the numbers and things nobody knows."""
    inside = {n for one in (*amounts, *named) for n in range(one.begin, one.end)}
    return sum(n not in inside and w not in _known() for n, w in enumerate(clause.words))


def reading_parts(talk: Talk) -> list[Part]:
    """What the sentence tells as readings; doubts among them where it is no clear reading."""
    found = found_in(talk)
    if talk.asked.kind == "bottle" and re.search(r"\b(bottles?|jars?)\b", talk.text):
        return []
    fruits = _fruits(talk)
    if len(fruits) > 1 and talk.asked.about == "fruit":
        return [Part(doubt=("told.two_fruits", ()), what="fruit")]
    strange = _strange_measure(talk)
    if strange is not None and not any(o.quantity.kind == "amount" for o in found):
        return [Part(doubt=strange)]
    amended = _amended(talk, found)
    facts = [o for o in found if o.stance == "fact" or (amended and o.stance == "past")]
    if not facts:
        return _no_fact(talk, found)
    with_unit = [one for one in facts if one.quantity.kind != "bare" or _named_bare(one, talk)]
    chosen = [one for one in facts if one.quantity.kind != "bare"] or with_unit or facts
    chosen += [o for o in with_unit if o not in chosen and _level(o, talk)]
    chosen.sort(key=lambda one: (one.clause, one.quantity.begin))
    loose = len(_numbers_of(found, talk)) > len(chosen)
    chosen = _refined(chosen, facts, talk)
    parts = [_part(one, talk, amended) for one in chosen]
    kept = [part for part in parts if part is not None]
    kept = _one_each(kept, talk)
    clear = not loose and all(s in _CLEAR for s in talk.stances)
    return [replace(part, sure=part.sure and clear) for part in kept]


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
    return one.thing is None and bool(_SOUR.search(text) or _SWEET.search(text) or _WARM.search(text))


def _named_bare(one: Found, talk: Talk) -> bool:
    text = talk.clauses[one.clause].text
    return bool(one.thing or _SOUR.search(text) or _SWEET.search(text) or _WARM.search(text))


def _no_fact(talk: Talk, found: list[Found]) -> list[Part]:
    """Hearsay and guesses about what is waited for: measured it must be."""
    first = talk.asked.awaited[0].what if talk.asked.awaited and talk.asked.kind in _WAITING else ""
    for one in found:
        if one.stance in ("hearsay", "guess") and first and _could_be(one, first):
            return [Part(doubt=("told.not_measured", (("what", first),)), what=first)]
    return []


_WAITING = ("measure", "heat", "hold", "cool", "reduce")


def _could_be(one: Found, what: str) -> bool:
    if one.thing is not None:
        return one.thing.what == what
    return one.quantity.kind == {"temperature": "degrees", "ph": "bare", "brix": "bare"}.get(
        what, "amount"
    )


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
    q, words = one.quantity, clause.words
    if pattern(FILE, "elsewhere", "not_ours").search(clause.text) and one.thing is None:
        return None
    thing, said = _which_thing(one, talk)
    unknown_fruit = _unknown_fruit(q, words, thing, talk) if q.kind == "amount" else ""
    if unknown_fruit:
        return Part(doubt=("told.unknown_fruit", (("fruit", unknown_fruit),)))
    first = thing.what if thing else _first(talk.asked)
    if q.kind == "amount" and first in _POWDERS and _unit(q) in _LARGE_SPOONS and (
        thing is not None or not amended
    ):
        facts = (("said", " ".join(q.words)), ("what", first.replace("_", " ")))
        return Part(doubt=("told.by_volume", facts))
    other = thing.fruit if thing else None
    if other and talk.asked.about == "fruit" and other not in (*talk.asked.fruits, talk.asked.fruit):
        fruit = (("fruit", " ".join(said)), ("amount", " ".join(q.words)))
        return Part(doubt=("told.other_fruit", fruit))
    canonical, what = _canonical(one, thing, said, talk)
    if canonical is None:
        return None
    if one.bounded == "below" or (one.bounded == "above" and what in ("temperature", "ph", "brix")):
        return Part(doubt=(f"told.{one.bounded}", (("said", " ".join(q.words)),)), what=what)
    unsure = one.unknown > 0 or clause.mark.startswith(("..", "…", "-", "?")) or one.bounded
    if one.unknown > 2 and q.kind == "bare":
        return None
    if one.unknown > 4:
        return None
    part = Part(canonical, sure=not unsure, what=what)
    return _as_correction(part, talk, amended)


def _which_thing(one: Found, talk: Talk) -> tuple[Named | None, tuple[str, ...]]:
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
    return None, ()


def _canonical(
    one: Found, thing: Named | None, said: tuple[str, ...], talk: Talk
) -> tuple[tuple[str, ...] | None, str]:
    q, clause = one.quantity, talk.clauses[one.clause]
    if q.kind == "degrees":
        scale = _SCALE.search(talk.text)
        own = any(w in ("fahrenheit", "celsius", "centigrade", "f", "c") for w in q.words)
        return (*q.words, *((scale[0],) if scale and not own else ())), "temperature"
    if q.kind in ("amount", "dose"):
        return _amount_words(q, thing, said, talk)
    return _bare_words(one, clause, thing, said, talk)


def _amount_words(
    q: Quantity, thing: Named | None, said: tuple[str, ...], talk: Talk
) -> tuple[tuple[str, ...] | None, str]:
    kind = _dimension(q)
    if thing is not None and thing.what == "fruit" and kind != "mass":
        thing = None
    if thing is None:
        return q.words, _awaited_in(kind, talk)
    if thing.what == "fruit" and thing.fruit is None:
        return (*q.words, "of", "fruit"), "fruit"
    named = (_TO_SAY.get(thing.what, thing.what),) if thing.what != "fruit" else said
    if thing.what in ("vinegar", "malic_acid", "gum_arabic"):
        return None, thing.what
    return (*q.words, "of", *" ".join(named).split()), thing.what


def _awaited_in(kind: str, talk: Talk) -> str:
    """What an amount of no named thing is of: the first awaited that it can be."""
    kinds = {"mass": ("g", "kg"), "volume": ("ml", "l"), "dose": ("g/l",)}[kind]
    return next((a.what for a in talk.asked.awaited if set(kinds) & set(a.units)), "")


def _bare_words(
    one: Found, clause: Clause, thing: Named | None, said: tuple[str, ...], talk: Talk
) -> tuple[tuple[str, ...] | None, str]:
    q, text, first = one.quantity, clause.text, _first(talk.asked)
    scale = _SCALE.search(talk.text)
    others = {t.fruit for t in things(clause.words)} - {None, talk.asked.fruit}
    if others and (_SOUR.search(text) or first in LEVELS):
        return None, ""
    if _SOUR.search(text) or (first == "ph" and not _WARM.search(text)):
        return ("p", "h", *q.words), "ph"
    if _SWEET.search(text) or (first == "brix" and not _WARM.search(text)):
        return (*q.words, "brix"), "brix"
    if scale or _WARM.search(text) or (first == "temperature" and thing is None):
        return (*q.words, "degrees", *((scale[0],) if scale else ())), "temperature"
    if thing is not None:
        name = _TO_SAY.get(thing.what, thing.what) if thing.what != "fruit" else " ".join(said)
        return ("the", *name.split(), "is", *q.words), thing.what
    if first in _WEIGHED and (_measuring(text) or one.unknown == 0):
        return q.words, first
    return None, ""


_WEIGHED = ("fruit", "juice", "sugar", "yield", "water")


def _measuring(text: str) -> bool:
    return bool(re.search(r"\b(weigh\w*|comes?|came|measures?|scales?|made|makes|got|says|shows|reads|jug|is|call it)\b", text))


def _first(asked: Asked) -> str:
    return asked.awaited[0].what if asked.awaited else ""


def _dimension(q: Quantity) -> str:
    unit = _unit(q)
    if unit in ("kg", "g", "mg", "lb", "oz"):
        return "mass"
    return "dose" if unit == "g/l" else "volume"


def _unit(q: Quantity) -> str | None:
    meant = [p.meant for p in parse(q.words)]
    return next((m.unit for m in meant if isinstance(m, Amount)), None)


def _strange_measure(talk: Talk) -> Note | None:
    """A measure that nobody here knows: "one tola of citric", "a handful of sugar"."""
    for n in talk.having("fact"):
        words = talk.clauses[n].words
        for thing in things(words):
            before = words[max(0, thing.begin - 3) : thing.begin]
            if len(before) < 3 or before[2] != "of" or before[1] in _known() | _NOT_UNITS:
                continue
            if any(q.begin < thing.begin - 1 <= q.end for q in quantities(words) if q.kind != "bare"):
                continue
            if before[0] in ("a", "an", "one") or before[0] in parser().lattices.number_words:
                said = " ".join(words[thing.begin - 3 : thing.end])
                return "told.strange_unit", (("said", said),)
    return None


def _unknown_fruit(q: Quantity, words: tuple[str, ...], thing: Named | None, talk: Talk) -> str:
    """The word after "two kilos of" where it is no fruit that is known here."""
    if thing is not None or _first(talk.asked) != "fruit" or _dimension(q) != "mass":
        return ""
    after = [w for w in words[q.end : q.end + 4] if w not in ("the", "my", "our", "some", "fresh", "ripe")]
    if len(after) > 1 and after[0] == "of" and after[1] not in _known():
        return after[1]
    return ""


def _as_correction(part: Part, talk: Talk, amended: bool) -> Part:
    """As a correction where the sentence puts right what was told before."""
    had = part.what in talk.asked.had or (
        not part.what and any(a.last is not None for a in talk.asked.awaited[:1])
    )
    if amended and had and part.words[:1] == ("the",):
        return _number_put_right(part, talk)
    if amended and had and part.words:
        return replace(part, words=("i", "meant", *part.words))
    later = part.what in ("fruit", "juice") and talk.asked.find(part.what) is None
    if later and had:
        return replace(part, words=("i", "meant", *part.words), sure=False)
    return part


def _number_put_right(part: Part, talk: Talk) -> Part:
    """ "The strawberries weigh 2.4": a correction by its number and its thing alone."""
    number = tuple(w for q in quantities(part.words) for w in q.words)
    meant = [p.meant for p in parse(number) if isinstance(p.meant, Amount) and not p.meant.short]
    if len(meant) != 1:
        return replace(part, sure=False)
    other = {t.fruit for t in things(part.words)} - {None, talk.asked.fruit}
    event = Correct(at=talk.at, value=float(meant[0].value), what=part.what)
    return Part(events=(event,), sure=part.sure and not other, what=part.what)


def _one_each(parts: list[Part], talk: Talk) -> list[Part]:
    """Two numbers for one thing: the later one asked about, or added up and asked about."""
    kept: list[Part] = []
    for part in parts:
        twin = next((k for k in kept if part.what and k.what == part.what and not k.doubt), None)
        if twin is None or part.doubt:
            kept.append(part)
        elif part.words == twin.words and part.what in LEVELS:
            continue
        elif part.words[:2] == ("i", "meant") or _again(part, twin, talk):
            kept[kept.index(twin)] = replace(part, sure=False)
        elif part.what in LEVELS:
            facts = (("one", _number(twin)), ("other", _number(part)))
            return [Part(doubt=("told.which_number", facts), what=part.what)]
        elif part.what == "fruit" and _other_fruit(part, twin):
            return [Part(doubt=("told.two_fruits", ()), what="fruit")]
        else:
            total = _total(twin, part)
            if total is None:
                return [Part(doubt=("told.total", (("what", part.what),)), what=part.what)]
            kept[kept.index(twin)] = total
    return kept


def _again(part: Part, twin: Part, talk: Talk) -> bool:
    """Whether the second number takes the first one's place: put right, or read later."""
    repaired = pattern(FILE, "stance", "repair").search(talk.text)
    marked = re.search(r"\b(no|now|wait|then)\b", talk.text) and not re.search(r"\b(or|to|between)\b", talk.text)
    return part.what in LEVELS and bool(repaired or marked)


def _number(part: Part) -> str:
    return " ".join(w for w in part.words if w not in ("p", "h"))


def _other_fruit(part: Part, twin: Part) -> bool:
    named = [{t.fruit for t in things(p.words)} - {None} for p in (part, twin)]
    return bool(named[0] and named[1] and named[0] != named[1])


def _total(one: Part, other: Part) -> Part | None:
    """Two amounts of one thing together, to be asked about; None where they can't be added."""
    amounts = [_amount(part) for part in (one, other)]
    if None in amounts:
        return None
    base = [to_base(float(a.value), str(a.unit)) for a in amounts if a is not None]
    unit = {"mass": "grams", "volume": "millilitres"}.get(dimension(amounts[0].unit or "g"))
    if unit is None or dimension(amounts[0].unit or "g") != dimension(amounts[1].unit or "g"):
        return None
    tail = one.words[len(_leading_amount(one.words)) :]
    words = to_words(f"{sum(base):.6g} {unit}")
    return replace(one, words=(*words, *tail), sure=False)


def _leading_amount(words: tuple[str, ...]) -> tuple[str, ...]:
    found = [q for q in quantities(words) if q.kind == "amount"]
    return words[: found[0].end] if found else ()


def _amount(part: Part) -> Amount | None:
    words = _leading_amount(part.words)
    meant = [p.meant for p in parse(words)] if words else []
    return next((m for m in meant if isinstance(m, Amount) and m.unit), None)


LEVELS = ("temperature", "ph", "brix")
"""What has one value at a time: a second one takes the place of the first."""
