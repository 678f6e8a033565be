"""Signs that a bottle or a batch has spoiled, in any words."""

import re

from assistant.understand.told.lexicon import listed, pattern, table
from assistant.understand.told.ours import strange_in
from assistant.understand.told.part import Part
from assistant.understand.told.talk import Talk

FILE = "store.toml"
_SAID = {
    "mould": "there's mould", "fizzing": "it's fizzing", "off_smell": "it smells off",
    "bulging": "it's bulging", "leaking": "it's leaking", "cloudy": "it's cloudy",
}  # fmt: skip
_SIGN_ORDER = ("mould", "bulging", "leaking", "fizzing", "off_smell", "cloudy")
_GOOD = re.compile(
    r"\b(smells?|smelled|smelling|tastes?) (so |very |really |absolutely |just )?(good|great"
    r"|lovely|amazing|nice|delicious|divine|wonderful|heavenly|fine|fruity|sweet|like (summer"
    r"|heaven|jam|raspberr\w+|fruit))\b"
)
_WENT_OFF_LIKE = re.compile(
    r"\b(went|goes|gone) off (like|with) (a )?(champagne|bang|pop|rocket|cork|gun)\b"
)
_NONE = re.compile(r"\b(no|not|any|without|never|free of|nothing)\b[\w ]{0,16}$")
_OTHERS = re.compile(
    r"(?<!like )(?<!like a )(?<!of )\b(beer|bread|milk|cheese|kombucha|cider|dough|coke|lemonade"
    r"|prosecco|fridge smell\w*|tyre"
    r"|bath|drain|car|timer|alarm|lights?|power|phone|oven|wall|ceiling|bathroom)\b"
)
_OURS = re.compile(
    r"\b(it|they|them|one|ones|bottles?|caps?|lids?|cork|top|surface|neck|there|syrup|batch|jars?"
    r"|cordial|shrub|some|something|juice|liquid|each|two|three)\b"
)
_PLACE = re.compile(
    r"\b(?:in|on|all over|round|around|under|behind|inside|hit|off)"
    r" (?:the|my|our|his|her|your|a) (\w+)"
)
_ANOTHER = re.compile(r"\b(last|previous|other|earlier) (lot|batch|time|year|season|summer)\b")
"""What is told of another batch, as a reason for what is done with this one."""
_HERE = frozenset(listed("store.toml", "ours", "places"))
_NO_SUBJECT = re.compile(r"(smells|smelling|tastes|smelled|tasted|gone|went|looks?) ")
MOST_STRANGE = 5
"""Words nobody knows, from which talk of mould is somebody else's (common practice, no source)."""


def sign_parts(talk: Talk) -> list[Part]:
    """Signs of spoilage: any once there are bottles, before only the unmistakable ones."""
    stored = talk.asked.in_store is not None
    if strange_in(talk) > MOST_STRANGE:
        return []
    found: list[Part] = []
    for n in talk.having("fact", "past", "guess", "hearsay", "elsewhere"):
        clause = talk.clauses[n]
        text = _WENT_OFF_LIKE.sub("it fizzes", _GOOD.sub(" ", clause.text))
        if not _is_ours(text) or _ANOTHER.search(text):
            continue
        for sign in _SIGN_ORDER:
            if _shows(sign, text, stored, talk) and not any(p.what == sign for p in found):
                words = tuple(_SAID[sign].split())
                sure = talk.stances[n] == "fact"
                found.append(Part(words, sure=sure, what=sign))
    return found


def _finds(text: str, force: str, sign: str) -> bool:
    """Whether a sign's words are there and not denied."""
    found = pattern(FILE, "sign", force, sign).finditer(text)
    return any(not _NONE.search(text[: match.start()]) for match in found)


def _shows(sign: str, text: str, stored: bool, talk: Talk) -> bool:
    strong = table(FILE)["sign"]["strong"].get(sign)
    if strong and _finds(text, "strong", sign):
        hot = talk.asked.kind in ("heat", "hold", "reduce", "measure", "bottle")
        return stored or not (hot and sign in ("fizzing", "bulging"))
    weak = table(FILE)["sign"]["weak"].get(sign)
    if not (stored and weak and _finds(text, "weak", sign)):
        return False
    return bool(_NO_SUBJECT.match(text) or _OURS.search(text))


def _is_ours(text: str) -> bool:
    """Whether it is seen on something of ours, not on a shower or a coat."""
    places = [match[1] for match in _PLACE.finditer(text)]
    if _OTHERS.search(text) or any(place not in _HERE for place in places):
        return False
    return bool(_OURS.search(text) or _NO_SUBJECT.match(text) or len(text.split()) <= _FEW)


_FEW = 6
"""Words in which a sign may be told without saying of what."""
