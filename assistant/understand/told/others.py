"""Yes and no in other words, timers, taking back, throwing away."""

import re
from dataclasses import replace

from assistant.understand.parsing import parser
from assistant.understand.told.found import strangers
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.talk import Talk

FILE = "words.toml"
_TIMER = re.compile(
    r"\b(timer|tell me (when|in|after)|let me know (when|in|after)|on the clock"
    r"|remind|alarm|buzz me|nudge me|ping me|shout at me|wake me|beep|a shout|shout"
    r"|(set|start|give) me (?=\w+ (minutes?|seconds?|hours?)))\b"
)
_FOR = re.compile(
    r"\b(?:about|for|called|named|of) (?:the |my |our )?(?!me\b)([\w' ]+?)(?: in| for| after|$)"
)
_UNDO = re.compile(
    r"\b(cancel|scratch|undo|delete|remove|erase|strike|take back|wipe|forget|ignore|disregard)"
    r"\b.*\b(that|last|it|what i|this|entry|reading|one)\b"
    r"|\b(do not count (that|this|it)|go back (one|a step|a stage)|take that (one )?back)\b"
)
_IGNORE = re.compile(
    r"^(no |oh |oops |sorry |wait |please |dear )*(ignore|forget|disregard"
    r"|do not count) (that|what i|the last|my last|this)( \w+){0,4}$"
)
_TIMER_ALONE = re.compile(
    r"^(please |can you |could you |ok |and )*(set|start|put|give)( me)?( on)? (a|the) timer"
    r"( please| on| going)*$"
)
_PAUSE = re.compile(
    r"^(ok |okay |right |um |sorry )*(pause|need a break|i need a break|let us take a break"
    r"|taking a break|brb|be right back|back in a|give me a (sec|second|minute|moment|mo))\b"
)
_DISCARD = re.compile(
    r"\b(binned|thrown|threw|chucked|poured|tipped|dumped|tossed|ditched|got rid of)\b"
)
_AWAY = re.compile(
    r"\b(away|out|bin|binned|drain|sink|compost|toilet|skip|rubbish|trash|ditched|rid|tossed it"
    r"|dumped it)\b"
)
_WHOLE = re.compile(
    r"\b(it|it all|all of it|all|the lot|everything|the batch|batch|the whole|this|syrup)\b"
)


def choice_parts(talk: Talk) -> list[Part]:
    """Yes or no to an option, where one is offered and the words leave no doubt."""
    asking = [n for n in talk.having("question") if len(talk.clauses[n].words) > 2]
    if not talk.asked.yes_no or asking or talk.having("condition", "hearsay"):
        return []
    if pattern(FILE, "doubt", "words").search(_without_sayings(talk.text)):
        return []
    no = bool(pattern(FILE, "no", "words").search(talk.text))
    yes = bool(pattern(FILE, "yes", "words").search(_without_no(talk.text)))
    yes = yes or (not no and bool(pattern(FILE, "yes", "weak").search(talk.text)))
    lead = talk.clauses[0].words[:1] if talk.clauses else ()
    if yes and no and lead and lead[0] in ("no", "nah", "nope"):
        yes = False
    said = {t.what for c in talk.clauses for t in things(c.words)}
    strange = 0 if talk.asked.about in said else _strange(talk)
    if strange > 1 or talk.having("elsewhere") or _other_matters(talk):
        return []
    if not no and re.search(r"\bnot\b", talk.text):
        return [Part(("no",), sure=False, what="choice")] if not strange else []
    if yes == no:
        return []
    return [Part(("yes",) if yes else ("no",), sure=not strange, what="choice")]


def _other_matters(talk: Talk) -> bool:
    """ "Yes, yes, I'm coming down": a clause that has nothing to do with a choice."""
    ours = [pattern(FILE, *path) for path in _CHOICE]
    fillers = set(listed(FILE, "known", "fillers"))
    return any(
        len(set(c.words) - fillers) > _FEW
        and not things(c.words)
        and not any(p.search(c.text) for p in ours)
        for c in talk.clauses
    )


_CHOICE = (("choice", "known"), ("yes", "words"), ("yes", "weak"), ("no", "words"))
_FEW = 2


def _strange(talk: Talk) -> int:
    """Words that have to do neither with a choice nor with what it is about."""
    left = []
    for clause in talk.clauses:
        text = clause.text
        for path in _CHOICE:
            text = pattern(FILE, *path).sub(" ", text)
        left.append(replace(clause, words=tuple(text.split())))
    return sum(strangers(clause, (), ()) for clause in left)


def _without_sayings(text: str) -> str:
    return re.sub(r"\b(why not|i do not know why not|i will pass|might as well)\b", " ", text)


def _without_no(text: str) -> str:
    return pattern(FILE, "no", "words").sub(" ", text)


_PLAINLY_A_TIMER = re.compile(r"\b(timer|alarm|for me|set me|remind me|a shout)\b")


def without_timer(talk: Talk) -> Talk:
    """The clauses that say nothing of the timer: "seventy-three it says, and a shout in five"."""
    kept = [
        n
        for n, clause in enumerate(talk.clauses)
        if not _TIMER.search(clause.text)
        and not parser().within(clause.words, ("duration",)).get("duration")
    ]
    clauses = tuple(talk.clauses[n] for n in kept)
    return replace(talk, clauses=clauses, stances=tuple(talk.stances[n] for n in kept))


def timer_parts(talk: Talk) -> list[Part]:
    """A timer wished for in any words that name a time."""
    if talk.asked.kind == "hold" and not _PLAINLY_A_TIMER.search(talk.text):
        return []
    for clause in talk.clauses:
        spans = parser().within(clause.words, ("duration",)).get("duration", ())
        if not spans or not _TIMER.search(talk.said) or "long" in talk.text.split():
            continue
        begin, end = max(spans, key=lambda s: s[1] - s[0])
        rest = " ".join((*clause.words[:begin], *clause.words[end:]))
        named = _FOR.search(re.sub(r"\b(in|for)$", "", rest).strip())
        name = ("called", *named[1].split()) if named and "timer" not in named[1] else ()
        words = ("set", "a", "timer", "for", *clause.words[begin:end], *name)
        return [Part(words, sure=True, what="timer")]
    if _TIMER_ALONE.match(talk.text):
        return [Part(doubt=("timer_length", ()), what="timer")]
    return []


def taken_back(talk: Talk) -> list[Part]:
    """ "Ignore that", "forget what I just told you": asked about, where no number is in it."""
    numbers = any(quantities(clause.words) for clause in talk.clauses)
    ignored = any(_IGNORE.match(clause.text) for clause in talk.clauses)
    if numbers or talk.having("question", "condition") or not ignored:
        return []
    return [Part(("undo",), sure=False, what="undo")]


_SPEAK = re.compile(r"\b(speak|talk|say (it|that)|voice|volume|sound)\b")
_MANNERS = (
    ("louder", re.compile(r"\b(loud|louder|up|can not hear)\b")),
    ("softer", re.compile(r"\b(soft|softer|softly|quieter|down|lower)\b")),
    ("slower", re.compile(r"\b(slow|slower|slowly)\b")),
    ("faster", re.compile(r"\b(fast|faster|quick|quicker|quickly)\b")),
)


def _manner(talk: Talk) -> list[Part]:
    """ "Can you speak a little more loud": how the voice should be."""
    if not _SPEAK.search(talk.text) or len(talk.text.split()) > _MOST_OF_MANNER:
        return []
    found = [name for name, said in _MANNERS if said.search(talk.text)]
    return [Part((found[0],), sure=True, what="manner")] if len(found) == 1 else []


_MOST_OF_MANNER = 16


def other_parts(talk: Talk) -> list[Part]:
    """Taking back, a pause, throwing the batch away, how the voice should be."""
    if manner := _manner(talk):
        return manner
    if _UNDO.search(talk.text) and not talk.having("question", "condition"):
        return [Part(("undo",), sure=False, what="undo")]
    if _PAUSE.search(talk.text) and not talk.having("condition"):
        return [Part(("pause",), sure=True, what="pause")]
    return _thrown_away(talk)


def _thrown_away(talk: Talk) -> list[Part]:
    for n in talk.having("fact"):
        text = talk.clauses[n].text
        named = {t.what for t in things(talk.clauses[n].words)} - {"fruit", "yield"}
        if named or quantities(talk.clauses[n].words):
            continue
        if _DISCARD.search(text) and _AWAY.search(text) and _WHOLE.search(text):
            return [Part(("throw", "it", "away"), sure=True, what="discard")]
    return []
