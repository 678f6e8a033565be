"""Whether a number in talk can belong to the batch at all, or to people, play and other things."""

import re

from assistant.understand.told.found import Found, strangers
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.talk import Talk

_PERSON = re.compile(r"\b(he|him|his|himself|born|mummy|daddy|baby|kid|officer|darling's)\b")
_WITH = re.compile(
    r"\b(thermometer|probe|needle|gauge|dial|meter|scales?|balance|refractometer|strip|jug|temperature"
    r"|temp|degrees?|fahrenheit|celsius|brix|p h|acidity|pan|juice|syrup|fruit|berries|sugar|number"
    r"|heat|flame|fire|stove|hob|boil\w*|simmer\w*)\b"
)
"""What a reading is taken with, or from."""
_DONE_WITH = re.compile(
    r"\b(weigh\w*|measur\w*|pour\w*|stirr?\w*|add\w*|squeez\w*|strain\w*|crush\w*|mash\w*|hull\w*"
    r"|pick\w*|top|topped|cut|sieved|dripped|put in|went in|tipp?\w*|chuck\w*|throw|dump\w*)\b"
)
_NOW = re.compile(
    r"\b(now|still|only|already|reads?|says?|shows?|showing|reading|climbing|rising|up to|down to"
    r"|coming|it is at|we are at|hit|reached|dropped to|gone to|settled|steady)\b"
)
MOST_STRANGE = 2


def strange_in(talk: Talk) -> int:
    """How many words of the whole sentence nobody knows."""
    return sum(strangers(c, quantities(c.words), things(c.words)) for c in talk.clauses)


def can_be_ours(one: Found, talk: Talk) -> bool:
    """Whether the number can be a reading of this batch: the less it says itself, the more the
    words around it must."""
    clause = talk.clauses[one.clause]
    same = [n for n, c in enumerate(talk.clauses) if c.sentence == clause.sentence]
    around = " ".join(talk.clauses[n].text for n in same)
    if one.thing is not None or one.quantity.kind in ("degrees", "dose"):
        return True
    if _PERSON.search(around):
        return False
    known = bool(_WITH.search(talk.text))
    if one.quantity.kind == "bare":
        if any(talk.stances[n] == "elsewhere" for n in same):
            return False
        return known or _bare_is_ours(one, talk)
    return known or bool(_DONE_WITH.search(talk.text)) or _amount_is_ours(one, talk)


def _bare_is_ours(one: Found, talk: Talk) -> bool:
    text = talk.clauses[one.clause].text
    many = sum(q.kind == "bare" for c in talk.clauses for q in quantities(c.words))
    if one.unknown > 1 or many > MOST_STRANGE:
        return False
    if one.unknown:
        return bool(_NOW.search(text)) or strange_in(talk) == 1
    return bool(_NOW.search(text)) or strange_in(talk) <= MOST_STRANGE


def _amount_is_ours(one: Found, talk: Talk) -> bool:
    words, end = talk.clauses[one.clause].words, one.quantity.end
    foreign = words[end : end + 1] == ("of",) and one.thing is None
    return not foreign and one.unknown <= MOST_STRANGE and strange_in(talk) <= MOST_STRANGE + 1
