"""Jars boiled in water and their seals, where the batch follows a tested process."""

import re

from assistant.facts.events import Choose
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities
from assistant.understand.told.talk import Talk

_MINUTES = frozenset(("minute", "minutes", "min", "mins"))
_METRES = {"metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0, "feet": 0.3048, "foot": 0.3048}
_ALL = re.compile(
    r"\b(all|every|each)\b[\w ]*\b(sealed|down|drawn in|tight)\b|\bsealed\b[\w ]*\ball\b"
)
_SOME = re.compile(
    r"\b(not|never) seal(ed)?\b|\bunsealed\b"
    r"|\b(lids?|jars?|one|two|some)\b[\w ]*\b(loose|popped up)\b"
)


def canning_parts(talk: Talk) -> list[Part]:
    """ "Boiled for 15 minutes at 400 metres", "all the lids are down", "two did not seal"."""
    if not talk.asked.process or talk.having("question", "plan", "condition", "hearsay", "guess"):
        return []
    if _SOME.search(talk.text):
        return [_chosen("sealed", "some", talk)]
    if talk.having("denial"):
        return []
    if _ALL.search(talk.text):
        return [_chosen("sealed", "all", talk)]
    minutes, altitude_m = _numbers(talk)
    if minutes is None or altitude_m is None:
        return []
    return [_chosen("boiled_in_jar", f"{minutes:g} min, {altitude_m:g} m", talk)]


def _numbers(talk: Talk) -> tuple[float | None, float | None]:
    minutes = altitude_m = None
    for clause in talk.clauses:
        for q in quantities(clause.words):
            after = clause.words[q.end] if q.end < len(clause.words) else ""
            amount = next((p.meant for p in parse(q.words) if isinstance(p.meant, Amount)), None)
            if amount is None or amount.unit is not None:
                continue
            if after in _MINUTES:
                minutes = float(amount.value)
            if after in _METRES:
                altitude_m = float(amount.value) * _METRES[after]
    return minutes, altitude_m


def _chosen(option: str, value: str, talk: Talk) -> Part:
    return Part(events=(Choose(at=talk.at, heard=talk.text, option=option, value=value),))
