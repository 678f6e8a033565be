"""What is told twice in one sentence: put right, added up, or asked about."""

import re
from dataclasses import replace

from assistant.base.units import dimension, to_base
from assistant.facts.events import event_adapter
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.told.lexicon import pattern
from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.stance import FILE
from assistant.understand.told.talk import LEVELS, Talk
from assistant.understand.words import to_words


def as_correction(part: Part, talk: Talk, amended: bool) -> Part:
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
    fields = {"kind": "correct", "at": talk.at, "what": part.what}
    event = event_adapter.validate_python({**fields, "value": float(meant[0].value)})
    return Part(events=(event,), sure=part.sure and not other, what=part.what)


def one_each(parts: list[Part], talk: Talk) -> list[Part]:
    """Two numbers for one thing: the later one asked about, or added up and asked about."""
    kept: list[Part] = []
    for part in parts:
        twin = next((k for k in kept if part.what and k.what == part.what and not k.doubt), None)
        if twin is None or part.doubt:
            kept.append(part)
        elif part.words == twin.words and part.what in LEVELS:
            continue
        elif part.words[:2] == ("i", "meant") or _again(part, talk):
            kept[kept.index(twin)] = replace(part, sure=False)
        elif part.what in LEVELS:
            facts = (("one", _number(twin)), ("other", _number(part)))
            return [Part(doubt=("which_number", facts), what=part.what)]
        elif part.what == "fruit" and _other_fruit(part, twin):
            return [Part(doubt=("two_fruits", ()), what="fruit")]
        elif re.search(r"\bor\b", talk.said) and not re.search(r"\bor so\b", talk.said):
            facts = (("one", _number(twin)), ("other", _number(part)))
            return [Part(doubt=("which_number", facts), what=part.what)]
        else:
            total = _total(twin, part)
            if total is None:
                return [Part(doubt=("total", (("what", part.what),)), what=part.what)]
            kept[kept.index(twin)] = total
    return kept


def _again(part: Part, talk: Talk) -> bool:
    """Whether the second number takes the first one's place: put right, or read later."""
    repaired = pattern(FILE, "stance", "repair").search(talk.text)
    marked = re.search(r"\b(no|now|wait|then)\b", talk.text) and not re.search(
        r"\b(or|to|between)\b", talk.text
    )
    return part.what in LEVELS and bool(repaired or marked)


def _number(part: Part) -> str:
    return " ".join(w for w in part.words if w not in ("p", "h"))


def _other_fruit(part: Part, twin: Part) -> bool:
    named = [{t.fruit for t in things(p.words)} - {None} for p in (part, twin)]
    return bool(named[0] and named[1] and named[0] != named[1])


def _total(one: Part, other: Part) -> Part | None:
    """Two amounts of one thing together, to be asked about; None where they can't be added."""
    amounts = [found for part in (one, other) if (found := _amount(part))]
    kinds = {dimension(str(amount.unit)) for amount in amounts}
    unit = {"mass": "grams", "volume": "millilitres"}.get(min(kinds, default=""))
    if len(amounts) < 2 or len(kinds) > 1 or unit is None:
        return None
    base = sum(to_base(float(amount.value), str(amount.unit)) for amount in amounts)
    tail = one.words[len(_leading_amount(one.words)) :]
    return replace(one, words=(*to_words(f"{base:.6g} {unit}"), *tail), sure=False)


def _leading_amount(words: tuple[str, ...]) -> tuple[str, ...]:
    found = [q for q in quantities(words) if q.kind == "amount"]
    return words[: found[0].end] if found else ()


def _amount(part: Part) -> Amount | None:
    words = _leading_amount(part.words)
    meant = [p.meant for p in parse(words)] if words else []
    return next((m for m in meant if isinstance(m, Amount) and m.unit), None)
