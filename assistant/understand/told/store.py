"""What became of bottles in store, and signs that one has spoiled."""

import re
from datetime import datetime

from assistant.facts.events import Correct
from assistant.understand.parsing import parser
from assistant.understand.told.clauses import Clause
from assistant.understand.told.found import known, strangers
from assistant.understand.told.lexicon import pattern, table
from assistant.understand.told.part import Part
from assistant.understand.told.spans import things
from assistant.understand.told.stance import Stance
from assistant.understand.told.talk import Talk

FILE = "store.toml"
_TOLD: tuple[Stance, ...] = ("fact", "past", "hearsay", "elsewhere")
_SAID_SO = re.compile(r"\b(said|says|say|told|tells|reckons?|asked|heard)\b")
_SOME = re.compile(r"\b(some|a few|several|a couple|many|lots|most)\b")
_COUPLE = {
    "a couple": "two",
    "both": "two",
    "a pair": "two",
    "half a dozen": "six",
    "a dozen": "twelve",
}
_ALL = re.compile(
    r"\b(all|everything|the lot|the rest|them all|the whole|every one|every bottle)\b"
)
_TO = re.compile(r"\b(?:to|for|with)\s+((?!away\b|get\b|make\b|be\b|see\b)[\w' ]+)$")
_WHOM = re.compile(
    r"\b(?:gave|sent|sold|handed|lent|brought) ((?:the |my |our )?[a-z']+(?: [a-z']+)?) (?=a "
    r"|one |two |three |four"
    r" |five |six |seven |eight |nine |ten |another |both |half )"
)
_BOTTLE = re.compile(
    r"\b(rest|lot|everything|bottles?|one|ones|them|it|jars?|two|three|four|five|six|seven|eight|nine|ten|both"
    r"|couple|dozen)\b"
)
MOST_STRANGE = 4


_AMENDED = re.compile(
    r"^(oh |sorry |wait )*(no|actually|correction)\b|\b(i (meant|mean|was wrong)|my mistake"
    r"|miscounted|counted wrong|(it|there|they) (was|were) (only |really |in fact )?\w+ bottles)\b"
)


def store_parts(talk: Talk) -> list[Part]:
    """Bottles used, given, opened, moved, broken or thrown away, once there are any."""
    if talk.asked.in_store is None:
        return []
    found = [part for n in talk.having(*_TOLD) if (part := _one(talk, n))]
    return found or _recount(talk, talk.at)


def _one(talk: Talk, n: int) -> Part | None:
    clause = talk.clauses[n]
    if talk.stances[n] == "hearsay" and _SAID_SO.search(clause.text):
        return None
    deed = _deed(clause, talk)
    if _counts_others(clause):
        return None
    if deed is None or (not _BOTTLE.search(clause.text) and not _SOME.search(clause.text)):
        return None
    strange = strangers(clause, (), things(clause.words))
    strange -= len(pattern(FILE, deed, "by").findall(clause.text)) + _place_words(clause)
    count = _count(clause)
    if count is None and deed != "moved":
        if _SOME.search(clause.text) and not _ALL.search(clause.text):
            return Part(doubt=("how_many", ()), what="store")
        return None
    to, named = _to(clause, deed)
    if strange - named > MOST_STRANGE:
        return None
    words = _said(deed, count or "", to, clause)
    if words is None:
        return None
    return Part(tuple(words.split()), sure=strange - named <= 0, what="store")


def _counts_others(clause: Clause) -> bool:
    """ "Two curtains": the number is of things that nobody fills with syrup."""
    spans = parser().within(clause.words, ("whole",)).get("whole", ())
    behind = {clause.words[end] for _, end in spans if end < len(clause.words)}
    named = {w for t in things(clause.words) for w in clause.words[t.begin : t.end]}
    plural = {w for w in behind - named - known() if w.endswith("s") and len(w) > _SHORTEST}
    return any(not _BOTTLE.fullmatch(word) for word in plural)


_SHORTEST = 3


def _deed(clause: Clause, talk: Talk) -> str | None:
    text = clause.text
    if pattern(FILE, "moved", "by").search(text) and _place(text):
        return "moved" if talk.asked.stage != "store" else None
    for deed in ("gave", "opened", "broke", "used"):
        if pattern(FILE, deed, "by").search(text):
            if deed == "used" and pattern(FILE, "threw", "gone").search(text):
                continue
            return deed
    threw = pattern(FILE, "threw", "by").search(text)
    return (
        "threw"
        if (threw and pattern(FILE, "threw", "gone").search(text))
        or re.search(r"\b(tossed|binned|ditched|discarded)\b", text)
        else None
    )


def _place(text: str) -> str | None:
    return next((p for p in table(FILE)["place"] if pattern(FILE, "place", p).search(text)), None)


def _place_words(clause: Clause) -> int:
    return len(clause.words) and sum(
        w in ("fridge", "freezer", "cupboard", "pantry", "shelf", "larder", "cellar")
        for w in clause.words
    )


def _count(clause: Clause) -> str | None:
    for said, number in _COUPLE.items():
        if re.search(rf"\b{said}\b", clause.text):
            return number
    spans = parser().within(clause.words, ("whole",)).get("whole", ())
    for begin, end in sorted(spans, key=lambda s: (s[0], -s[1])):
        if clause.words[begin] != "oh":
            return " ".join(clause.words[begin:end])
    if re.match(r"(the |a )?bottle ", clause.text):
        return "one"
    one = re.search(
        r"\b(a|another|the open|the opened|the last|that|this) (bottle|jar|one)\b", clause.text
    )
    return "one" if one else None


def _to(clause: Clause, deed: str) -> tuple[str, int]:
    """Who got them, and how many words tell it."""
    if deed != "gave":
        return "", 0
    match = _TO.search(clause.text) or _WHOM.search(clause.text)
    if match:
        return match[1], len(match[1].split())
    if re.search(r"\bsold\b", clause.text):
        return "buyers", 1
    return "somebody", 2


def _said(deed: str, count: str, to: str, clause: Clause) -> str | None:
    match deed:
        case "gave":
            return f"we gave {count} bottles to {to}"
        case "used":
            return f"we used {count} bottles"
        case "broke":
            return f"we gave {count} bottles to breakage"
        case "opened":
            return f"i opened {count} bottles"
        case "threw":
            return f"throw {count} bottles away"
        case _:
            return _moved(count, clause)


def _moved(count: str, clause: Clause) -> str | None:
    place = _place(clause.text)
    if count:
        return f"we moved {count} bottles to the {place}"
    return f"i put them in the {place}" if _BOTTLE.search(clause.text) else None


def _recount(talk: Talk, at: datetime) -> list[Part]:
    """ "It's eight bottles, not nine", "no, eight bottles": the count put right."""
    facts = [talk.clauses[n] for n in talk.having("fact") if "bottle" in talk.clauses[n].text]
    rejected = [c for c in talk.clauses if c.words[:1] == ("not",) and _count(c)]
    amended = _AMENDED.search(talk.text) and not any(_deed(c, talk) for c in facts)
    if len(facts) != 1 or not (rejected or amended):
        return []
    count = _count(facts[0])
    value = next(iter(parser().values(tuple(count.split()), "whole")), None) if count else None
    if value is None:
        return []
    event = Correct(at=at, heard=talk.text, value=float(value[0]), unit="count", what="bottles")
    return [Part(events=(event,), sure=False, what="store")]
