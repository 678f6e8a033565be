"""Juice of a fruit that is named: "600 ml of lime juice"; several of them, and one put right."""

from assistant.base.units import dimension, to_base
from assistant.facts.events import Correct, Reading, Weighed
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.told.fruit import NO_FACT, puts_right
from assistant.understand.told.part import Part
from assistant.understand.told.spans import Quantity, quantities, things
from assistant.understand.told.talk import Talk

_BASE = {"volume": "ml", "mass": "g"}


def juice_parts(talk: Talk) -> list[Part]:
    """What a recipe starts from, by the fruit of each juice; [] where no fruit is named.

    Where whole fruit is asked for, juice is none: that is a doubt.
    """
    asked = talk.asked
    if "fruit" in asked.had or talk.having(*NO_FACT):
        return []
    items = [_item(q, clause.words) for clause in talk.clauses for q in quantities(clause.words)]
    told = [one for one in items if one is not None]
    if not told or len(told) < len(items):
        return []
    if puts_right(talk):
        return _put_right(told, talk)
    if asked.about not in ("juice", "fruit"):
        return []
    if asked.about == "fruit":
        return [Part(doubt=("juice_for_fruit", ()), what="fruit")]
    kinds = {dimension(one.unit) for one in told}
    if len(kinds) > 1:
        return [Part(doubt=("total", (("what", "juice"),)), what="juice")]
    value = sum(to_base(one.value, one.unit) for one in told)
    fields = {"at": talk.at, "heard": talk.text, "what": "juice", "value": value}
    event = Reading.model_validate({**fields, "unit": _BASE[min(kinds)], "parts": told})
    return [Part(events=(event,), what="juice")]


def _put_right(told: list[Weighed], talk: Talk) -> list[Part]:
    if "juice" not in talk.asked.had or len(told) > 1:
        return []
    one = told[0]
    fields = {"at": talk.at, "heard": talk.text, "what": "juice", "of": one.fruit}
    event = Correct.model_validate({**fields, "value": one.value, "unit": one.unit})
    return [Part(events=(event,), what="juice")]


def _item(q: Quantity, words: tuple[str, ...]) -> Weighed | None:
    """An amount with "lime juice" right behind it; None for any other."""
    fruit = next((t for t in things(words) if t.fruit and q.end <= t.begin <= q.end + 3), None)
    amount = next((p.meant for p in parse(q.words) if isinstance(p.meant, Amount)), None)
    if fruit is None or amount is None or amount.unit is None or amount.value <= 0:
        return None
    juiced = words[fruit.end : fruit.end + 1] == ("juice",)
    if not juiced or dimension(amount.unit) not in _BASE:
        return None
    fields = {"fruit": fruit.fruit, "value": float(amount.value), "unit": amount.unit}
    return Weighed.model_validate(fields)
