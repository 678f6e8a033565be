"""What became of bottles in store, and signs that one has spoiled."""

import re
from dataclasses import replace
from datetime import datetime

from assistant.facts.events import Correct
from assistant.facts.vessels import Vessel
from assistant.understand.parsing import parser
from assistant.understand.told.clauses import Clause
from assistant.understand.told.found import known, strangers
from assistant.understand.told.left import left_parts
from assistant.understand.told.lexicon import pattern, table
from assistant.understand.told.of_sort import OfSort, in_count, in_words, made_up_of, of_sort
from assistant.understand.told.part import Part
from assistant.understand.told.spans import things
from assistant.understand.told.stance import Stance
from assistant.understand.told.talk import Talk

FILE = "store.toml"
BREAKAGE = "breakage"
"""Who gets what broke, in a list of where bottles went."""
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
    r"\b(?:gave|sent|sold|handed|lent|brought)"
    r" (?!(?:a|an|one|two|three|four|five|six|seven|eight|nine|ten|away)\b)"
    r"((?:the |my |our )?[a-z']+(?: [a-z']+)?) (?=a "
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
    found: list[Part] = []
    deed = to = ""
    for n in talk.having(*_TOLD):
        own = _deed(talk.clauses[n], talk)
        if own or (deed and _goes_on(talk, n)):
            deed = own or deed
            to = _to(talk.clauses[n], deed)[0] if deed == "gave" else ""
            found += _told(talk, n, deed)
    if len(found) > 1 and deed == "gave":
        found = [_to_all(part, to) for part in found]
    return found or _recount(talk, talk.at) or left_parts(talk)


def _goes_on(talk: Talk, n: int) -> bool:
    """ "Gave two half litres and a 330 to Anna": more of what the clause before tells."""
    named = _of_sort(talk, n)
    return talk.clauses[n].joiner == "and" and bool(named.count and named.vessels)


def _to_all(part: Part, to: str) -> Part:
    """What was given to nobody by name goes to the one who is named last."""
    words = re.sub(r" to somebody$", f" to {to}", " ".join(part.words))
    return replace(part, words=tuple(words.split()))


def _of_sort(talk: Talk, n: int) -> OfSort:
    return of_sort(talk.clauses[n].words, talk.asked)


def _told(talk: Talk, n: int, deed: str) -> list[Part]:
    """What one clause tells that became of bottles: a part for each sort, or a doubt."""
    clause = talk.clauses[n]
    if talk.stances[n] == "hearsay" and _SAID_SO.search(clause.text):
        return []
    named = _of_sort(talk, n)
    about = named.named or _BOTTLE.search(clause.text) or _SOME.search(clause.text)
    if not about or (_counts_others(clause) and not named.said):
        return []
    strange = strangers(clause, (), things(clause.words)) - named.said
    strange -= len(pattern(FILE, deed, "by").findall(clause.text)) + _place_words(clause)
    if named.volume is not None:
        return _by_volume(talk, n, deed, named.volume, strange)
    count = (named.count if named.named else _count(clause)) or (_count(clause) or "")
    if not count and deed != "moved":
        if _SOME.search(clause.text) and not _ALL.search(clause.text):
            return [Part(doubt=("how_many", ()), what="store")]
        return []
    noun = _noun(named, count)
    return _as_parts([(deed, count, noun)], clause, strange)


def _noun(named: OfSort, count: str) -> str:
    """The sort in the grammars' words, "bottles" where it is not clear which."""
    one = 1 if count == "one" else 0
    if named.asked_ml:
        return in_words(Vessel(size_ml=named.asked_ml), one)
    if len(named.vessels) == 1:
        return in_words(named.vessels[0], one)
    return "bottle" if one else "bottles"


def _by_volume(
    talk: Talk, n: int, deed: str, volume: tuple[str, float], strange: int
) -> list[Part]:
    """ "Three litres of it", as the bottles that hold it; asked where several ways are open."""
    ways = made_up_of(volume[1], talk.asked.sorts)
    if len(ways) != 1:
        return [Part(doubt=("volume_how", (("volume", volume[0]),)), what="volume")]
    told = [(deed, in_count(count), in_words(vessel, count)) for vessel, count in ways[0]]
    return _as_parts(told, talk.clauses[n], strange + (len(told) > 1) * MOST_STRANGE)


def _as_parts(told: list[tuple[str, str, str]], clause: Clause, strange: int) -> list[Part]:
    to, named = _to(clause, told[0][0])
    if strange - named > MOST_STRANGE + MOST_STRANGE * (len(told) > 1):
        return []
    words = (_said(deed, count, noun, to, clause) for deed, count, noun in told)
    sure = strange - named <= 0
    return [Part(tuple(said.split()), sure=sure, what="store") for said in words if said]


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


def _said(deed: str, count: str, noun: str, to: str, clause: Clause) -> str | None:
    match deed:
        case "gave":
            return f"we gave {count} {noun} to {to}"
        case "used":
            return f"we used {count} {noun}"
        case "broke":
            return f"we gave {count} {noun} to {BREAKAGE}"
        case "opened":
            return f"i opened {count} {noun}"
        case "threw":
            return f"throw {count} {noun} away"
        case _:
            return _moved(count, noun, clause)


def _moved(count: str, noun: str, clause: Clause) -> str | None:
    place = _place(clause.text)
    if count:
        return f"we moved {count} {noun} to the {place}"
    if " of " in noun or noun == "jars":
        return f"we moved all {noun} to the {place}"
    return f"i put them in the {place}" if _BOTTLE.search(clause.text) else None


def _recount(talk: Talk, at: datetime) -> list[Part]:
    """ "It's eight bottles, not nine", "six half litres, not seven": the count put right."""
    rejected = [c for c in talk.clauses if c.words[:1] == ("not",) and _count(c)]
    told: tuple[Stance, ...] = ("fact", "past") if rejected else ("fact",)
    facts = [n for n in talk.having(*told) if _counts_bottles(talk, n)]
    deeds = any(_deed(talk.clauses[n], talk) for n in facts)
    if len(facts) != 1 or not (rejected or (_AMENDED.search(talk.text) and not deeds)):
        return []
    named = _of_sort(talk, facts[0])
    count = named.count or _count(talk.clauses[facts[0]])
    value = next(iter(parser().values(tuple(count.split()), "whole")), None) if count else None
    if value is None:
        return []
    vessel = named.vessels[0] if len(named.vessels) == 1 and len(talk.asked.sorts) > 1 else None
    right = {"value": float(value[0]), "unit": "count", "what": "bottles", "vessel": vessel}
    event = Correct.model_validate({"at": at, "heard": talk.text, **right})
    return [Part(events=(event,), sure=False, what="store")]


def _counts_bottles(talk: Talk, n: int) -> bool:
    return "bottle" in talk.clauses[n].text or bool(_of_sort(talk, n).vessels)
