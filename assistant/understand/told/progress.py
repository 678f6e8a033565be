"""Whether a sentence says that what the stage asks for has been done."""

import re

from assistant.facts.stuff import stuff_of
from assistant.understand.parsing import parser
from assistant.understand.told.clauses import Clause
from assistant.understand.told.elsewhere import done_elsewhere
from assistant.understand.told.found import strangers
from assistant.understand.told.groups import FILE, groups_of
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.ours import strange_in
from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.stance import FILE as WORDS
from assistant.understand.told.stance import Stance
from assistant.understand.told.talk import Talk

_READ = ("measure", "heat", "hold", "cool", "reduce", "bottle")
_DONE = ("add", "do", "rest")
_COMMAND = re.compile(
    r"^(please )?((put(?! away))|add|stir|pour|mix|crush|mash|strain|tip|chuck|filter|rinse|cover"
    r"|cut|spread)\b"
)
_ELSEWHERE = re.compile(
    r"\b(in|on|into|from) (the|a|my|his|her|your|our|that|this) (?!pan|pot|bowl|juice|mix"
    r"|mixture|syrup|water|fruit"
    r"|batch|cloth|sieve|muslin|jug|liquid|basin|fridge|mark|line|pulp|berries|currants|heat"
    r"|stove|hob|side|sugar|bottom|brim|same|whole|end|go|blackcurrants|raspberries|strawberries"
    r"|peel)\w+"
    r"|\b(strained|crushed|cut|burnt|broke|pressed|squeezed) (my|his|her|your|our) (?!fruit"
    r"|berries|juice|currants|raspberries|strawberries|blackcurrants|rhubarb|syrup|mash|pulp"
    r"|lemons|limes)"
)
_STOPPED = re.compile(r"\b(stopped|finished|done|no longer|not|through) (\w+ ){0,2}$")
_ADVERBS = re.compile(r"\b(already|now|just|finally|really|well|also|only|nicely|fully|properly) ")
_PRONOUNS = re.compile(r"\b(it|them|that|this|all) ")
_NO_MORE = re.compile(r"\b(nothing|no|not a) (more|grains?|grit|drips?|crystals?|lumps?)\b")
_BEEN = re.compile(r"\b(been|had) (\w+ )?$")
_OVER = re.compile(
    r" (is |has |are )?(all )?(complete|completed|over|done|finished|ended|stopped)\b"
)
_PASSED = re.compile(r"\b(done|up|already|been|is|passed|over|gone|had|rest|rested|sat|stood)\b")
_NOT_PASSED = re.compile(r"\b(left|to go|more|only|another|ago|since|in|for another|timer)\b")
_CLEAR = ("fact", "plan", "question", "past")
MOST_STRANGE = 3
"""Words nobody knows in a clause, from which it is not asked about either (common practice, no
source)."""


def progress_parts(talk: Talk) -> list[Part]:
    """ "Done" where the stage has been done; a doubt where it waits for a number instead."""
    asked = talk.asked
    if (
        talk.having("elsewhere")
        or _still_to_do(talk)
        or pattern(WORDS, "stance", "joke").search(talk.text)
    ):
        return []
    if asked.kind in _READ:
        return _without_reading(talk)
    if asked.kind not in _DONE:
        return []
    for n in talk.having("fact", "denial", "guess"):
        clause = talk.clauses[n]
        if quantities(clause.words) and asked.kind == "add":
            continue
        if talk.stances[n] == "denial" and not _dripped_out(clause):
            continue
        if _says_done(clause, talk):
            strange = strangers(clause, quantities(clause.words), things(clause.words))
            strange -= len(_done_words(clause, talk))
            if strange <= MOST_STRANGE and not (strange_in(talk) and _only_plain(clause, talk)):
                others = [s for m, s in enumerate(talk.stances) if m != n]
                clear = strange <= 0 and all(s in _CLEAR for s in (*others, _own(talk, n)))
                return [Part(("done",), sure=clear, what="onward")]
    return []


def _own(talk: Talk, n: int) -> Stance:
    """The stance of a clause that says it is done; "no more grains" is as good as a fact."""
    return "fact" if talk.stances[n] == "denial" else talk.stances[n]


def _only_plain(clause: Clause, talk: Talk) -> bool:
    """ "Done" or "in" without a word of the stage: talk about other things sounds the same."""
    if talk.asked.kind == "rest" and _time_passed(clause):
        return False
    told = any(_group_done(g, clause) for g in groups_of(talk.asked))
    return not told and not things(clause.words)


def _says_done(clause: Clause, talk: Talk) -> bool:
    if _is_doing(clause, talk) or pattern(FILE, "partly", "by").search(clause.text):
        return False
    if _COMMAND.match(clause.text) and not re.search(r"\b(is|are|have|has)\b", clause.text):
        return False
    if _ELSEWHERE.search(clause.text) and talk.asked.stage != "store":
        return False
    if talk.asked.kind == "rest" and _time_passed(clause):
        return True
    own = [g for g in groups_of(talk.asked) if _group_done(g, clause)]
    bare_in = talk.asked.kind == "add" and _stands_in(clause)
    plain = pattern(FILE, "any", "by").search(clause.text) and len(clause.words) <= 6
    if not (own or bare_in or plain):
        return False
    return _of_the_stage(clause, talk, own)


def _time_passed(clause: Clause) -> bool:
    """ "That's twenty minutes", "it has rest ten hours already"."""
    spans = parser().within(clause.words, ("duration",)).get("duration", ())
    if not spans or _NOT_PASSED.search(clause.text):
        return False
    return bool(_PASSED.search(clause.text))


def _group_done(name: str, clause: Clause) -> bool:
    """Whether the clause has a done form of the group, or a doing one that is at its end."""
    by = pattern(FILE, name, "by")
    plain = _ADVERBS.sub("", clause.text)
    if any(by.search(text) for text in (clause.text, plain, _PRONOUNS.sub("", plain))):
        return True
    found = pattern(FILE, name, "doing").finditer(clause.text)
    return any(_ended(clause.text, match.start(), match.end()) for match in found)


def _ended(text: str, begin: int, end: int) -> bool:
    """ "Stopped dripping", "filtering is complete"."""
    return bool(_STOPPED.search(text[:begin]) or _OVER.match(text[end:]))


def _stands_in(clause: Clause) -> bool:
    """ "Citric in", "sugar in now"."""
    return bool(
        re.search(r"\bin( now| already| too| there| as well| like you said)?$", clause.text)
    )


def _of_the_stage(clause: Clause, talk: Talk, own: list[str]) -> bool:
    """Whether what is named is what the stage is about, where anything is named."""
    named = {t.what for t in things(clause.words)}
    if not named and talk.asked.kind == "add" and _of_another(clause, talk):
        return False
    if talk.asked.kind != "add":
        return not any(done_elsewhere(each, talk.asked) for each in named)
    if not named or set(own) & {"crush", "halve", "cover"}:
        return True
    stuff = stuff_of(talk.asked.about)
    return stuff in named or (
        not named - {"fruit", "juice", "yield"} and bool(own) and "put" not in own
    )


def _of_another(clause: Clause, talk: Talk) -> bool:
    """ "The gum is in lumps when I put it in": it is what was named last before."""
    before = talk.clauses[: talk.clauses.index(clause)]
    named = next((found for c in reversed(before) if (found := things(c.words))), ())
    return bool(named) and stuff_of(talk.asked.about) not in {t.what for t in named}


def _is_doing(clause: Clause, talk: Talk) -> bool:
    for name in groups_of(talk.asked):
        for match in pattern(FILE, name, "doing").finditer(clause.text):
            stopped = _ended(clause.text, match.start(), match.end())
            been = _BEEN.search(clause.text[: match.start()])
            stopped = stopped or (name == "rest" and bool(been))
            done = pattern(FILE, name, "by").finditer(clause.text)
            if not stopped and not any(m.end() >= match.end() for m in done):
                return True
    return bool(re.search(r"\b(still|keep|keeps|keeping) \w+ing\b", clause.text))


def _still_to_do(talk: Talk) -> bool:
    """Whether any clause says that it is not done yet, or is being done."""
    undone = pattern(WORDS, "stance", "undone")
    if any(undone.search(clause.text) for clause in talk.clauses):
        return True
    for n in talk.having("denial", "plan"):
        clause = talk.clauses[n]
        own = [g for g in groups_of(talk.asked) if pattern(FILE, g, "by").search(clause.text)]
        if own and not _dripped_out(clause):
            return True
    return any(_is_doing(c, talk) for c in talk.clauses)


def _dripped_out(clause: Clause) -> bool:
    """ "Nothing more comes through" is denied and done."""
    return bool(
        re.search(
            r"\b(nothing|no|not a) (more|more liquid|grains?|grit|drips?|crystals?|lumps?)\b",
            clause.text,
        )
    )


def _done_words(clause: Clause, talk: Talk) -> set[str]:
    """The words of the clause that say it is done, known after all."""
    own = groups_of(talk.asked)
    forms = [*((name, "by") for name in (*own, "any")), *((name, "doing") for name in own)]
    found = [m for name, form in forms for m in pattern(FILE, name, form).finditer(clause.text)]
    known = {
        w for name in ("fillers", "grammar", "instruments") for w in listed(WORDS, "known", name)
    }
    return {word for match in found for word in match[0].split() if word not in known}


def _without_reading(talk: Talk) -> list[Part]:
    """A claim to be done where a number is wanted: the number is asked for."""
    asked = talk.asked
    if any(quantities(talk.clauses[n].words) for n in talk.having("fact")) or not asked.awaited:
        heat = asked.kind in ("heat", "hold")
        if not (heat and pattern(FILE, "any_at_heat", "by").search(talk.text)):
            return []
    name = "any_at_heat" if asked.kind in ("heat", "hold") else "any"
    for n in talk.having("fact"):
        clause = talk.clauses[n]
        strange = strangers(clause, quantities(clause.words), things(clause.words))
        if (
            pattern(FILE, name, "by").search(clause.text)
            and strange <= 1
            and len(clause.words) <= 7
        ):
            first = asked.awaited[0].what
            return [Part(doubt=("number_first", (("what", first),)), what="onward")]
    return []
