"""What is told without its number: half a sentence, some of it, "in the seventies"."""

import re

from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.talk import Talk

_TENS = re.compile(
    r"\b(in the|mid|low|high|upper|lower) (low |mid |high |upper |lower )?"
    r"(twenties|thirties|forties|fifties|sixties|seventies|eighties|nineties)\b"
    r"|\b(twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety) (odd|something|ish)\b"
)
_SOME = re.compile(
    r"\b(some|a few|a little|little|a bit|little bit|a splash|a dash|a drop|a pinch|a handful"
    r"|a spoonful|a glug|a squeeze)( more)?( of)?( the)? (citric acid|citric|acid|sugar|water"
    r"|ascorbic acid|glycerin|sorbate|vitamin c)\b"
)
_PUT_IN = re.compile(
    r"\b(put|puts|added|add|gave|tipped|poured|stirred|chucked|dumped|threw|sprinkled|squeezed"
    r"|went in|gone in|is in|in now)\b"
)
_PARTLY = re.compile(
    r"\b(most(ly)?|almost|nearly|half|some|part|a bit|more or less)( all)?( of)?"
    r" (the |it |them |it's |that |dissolved|melted|through|done|all |in |mashed|crushed|strained)"
)
_FILLED = re.compile(r"\b(filled|bottled|capped|sealed|corked)\b")
_LAST = frozenset(("um", "er", "uh", "erm", "at", "was", "is", "about", "of", "to"))
_TOLD_OF = re.compile(
    r"\b(thermometer|probe|meter|scales?|jug|needle|sugar|juice|water|citric|acid|p h|brix"
    r"|came out at|comes out at|came to|weighs|i put in|it reads|it says)\b"
)
_READ = ("measure", "heat", "hold", "cool", "reduce")


def vague_parts(talk: Talk) -> list[Part]:
    """A doubt that asks for what is missing, where nothing else was told."""
    if talk.having("question", "condition", "elsewhere", "plan", "hearsay"):
        return []
    return _tens(talk) or _bottles(talk) or _amount(talk) or _part_of_it(talk)


def cut_off(talk: Talk) -> list[Part]:
    """ "The sugar I put in was...": the end is missing."""
    if talk.having("question", "condition", "elsewhere"):
        return []
    last = talk.clauses[-1]
    ends = last.words[-1] in _LAST and not quantities(last.words)
    if ends and _TOLD_OF.search(last.text):
        return [Part(doubt=("cut_off", ()))]
    return []


def _tens(talk: Talk) -> list[Part]:
    """ "Somewhere in the seventies"."""
    if talk.first == "temperature" and _TENS.search(talk.text):
        return [Part(doubt=("only_about", ()), what="temperature")]
    return []


def _bottles(talk: Talk) -> list[Part]:
    """ "The bottles are filled": how many, of what size?"""
    told = [talk.clauses[n] for n in talk.having("fact")]
    filled = any(_FILLED.search(c.text) and re.search(r"\bbottles?\b", c.text) for c in told)
    if talk.asked.kind == "bottle" and filled:
        return [Part(doubt=("bottle_size", ()), what="bottles")]
    return []


def _amount(talk: Talk) -> list[Part]:
    """ "I put a little citric acid in": how much?"""
    for n in talk.having("fact"):
        clause = talk.clauses[n]
        some = _SOME.search(clause.text)
        if some and _PUT_IN.search(clause.text) and not quantities(clause.words):
            name = things(clause.words)[-1].what.replace("_", " ")
            return [Part(doubt=("how_much_of", (("what", name),)))]
    return []


def _part_of_it(talk: Talk) -> list[Part]:
    """ "Most of the sugar is in": when is it all?"""
    if talk.asked.kind not in ("add", "do", "rest"):
        return []
    for n in talk.having("fact"):
        clause = talk.clauses[n]
        if _PARTLY.match(clause.text.removeprefix("it is ")) and len(clause.words) <= _FEW:
            return [Part(doubt=("partly_done", ()))]
    return []


_FEW = 8
"""Words in which it may be told without saying of what (common practice, no source)."""
