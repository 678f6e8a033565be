"""How many bottles are left: asked of one sort, or told, and held against the count."""

import re

from assistant.facts.events import Ask
from assistant.facts.vessels import Vessel
from assistant.understand.parsing import parser
from assistant.understand.told.of_sort import in_count, in_words, of_sort
from assistant.understand.told.part import Part
from assistant.understand.told.talk import Talk

_LEFT = re.compile(r"\b(left|remain\w*|still (there|here|got|have)|in (store|stock|the larder))\b")
_HOW_MANY = re.compile(r"\b(how many|are there any|have we any|do we have any|any)\b")
_STILL = re.compile(r"\b(left|remain\w*|still|there|have|got|in (store|stock|the larder))\b")


def left_parts(talk: Talk) -> list[Part]:
    """ "How many of the small ones are left", "three of the half litres are left"."""
    return _asked(talk) or _told(talk)


def _asked(talk: Talk) -> list[Part]:
    for n in talk.having("question"):
        clause = talk.clauses[n]
        if not _HOW_MANY.search(clause.text) or not _STILL.search(clause.text):
            continue
        named = of_sort(clause.words, talk.asked)
        vessel = named.vessels[0] if len(named.vessels) == 1 else None
        if vessel is None and named.asked_ml:
            vessel = Vessel(size_ml=named.asked_ml)
        if vessel is not None:
            event = Ask(at=talk.at, heard=talk.text, topic="larder", vessel=vessel)
            return [Part(events=(event,), what="store")]
    return []


def _told(talk: Talk) -> list[Part]:
    """What is left, as the cook counts it: fewer than by our count were used."""
    for n in talk.having("fact"):
        clause = talk.clauses[n]
        named = of_sort(clause.words, talk.asked)
        if not _LEFT.search(clause.text) or len(named.vessels) != 1 or not named.count:
            continue
        vessel = named.vessels[0]
        there = next(count for each, count in talk.asked.sorts if each == vessel)
        values = parser().values(tuple(named.count.split()), "whole")
        told = next((int(value[0]) for value in values), None)
        if told is not None:
            return [_against(talk, vessel, told, there)]
    return []


def _against(talk: Talk, vessel: Vessel, told: int, there: int) -> Part:
    if told > there:
        return Part(doubt=("more_left", (("there", in_count(there)),)))
    if told == there:
        event = Ask(at=talk.at, heard=talk.text, topic="larder", vessel=vessel)
        return Part(events=(event,), what="store")
    gone = there - told
    words = f"we used {in_count(gone)} {in_words(vessel, gone)}"
    return Part(tuple(words.split()), sure=False, what="store")
