"""How a clause is meant: told as a fact, planned, asked, denied, heard from others, wished."""

import re
from collections.abc import Callable, Sequence
from typing import Literal

from assistant.understand.parsing import parser
from assistant.understand.told.clauses import Clause
from assistant.understand.told.lexicon import listed, pattern
from assistant.understand.told.spans import quantities

Stance = Literal[
    "fact", "question", "condition", "plan", "denial", "hearsay", "past", "guess", "elsewhere",
    "bound",
]  # fmt: skip
"""bound: "until it hits 75", a mark to work to, not a reading."""

FILE = "words.toml"
_BOUNDS = frozenset(("until", "till", "before", "once"))
_TOLD_PAST = re.compile(r"\b(hit|reached|was|were|got|came|went|said|showed|filled|stopped)\b")
_INSTRUMENT = re.compile(
    r"\b(thermometer|probe|needle|gauge|dial|display|scales?|balance|meter|refractometer|machine"
    r"|jug|strip|screen|readout|thermo)\b"
)
_SAYS = re.compile(r"\b(says?|said|reads?|shows?|tells?|told|gives?|showing|reading|telling)\b")
_ORDER = re.compile(
    r"^(please |just |now |then |and |you )*((turn|set|keep|buy|get|fetch|take|heat|warm|boil"
    r"|let|make sure|tell|remind"
    r"|cool|bring|hand|pass|leave|wait|order|grab|use)\b|(weigh|measure|check|read|hold|stop"
    r"|start|give) (it|them|the|that|me|us)\b)"
)
_VESSEL = re.compile(
    r"\b(bowl|pan|pot|jug|tub|crate|box|basket|container|tray|bucket|basin|plate|bag|sieve|bottle)"
    r" (alone |itself |empty |only )?(weighs?|is|was)\b"
)
_FAULTY = re.compile(
    r"\b(broken|faulty|playing up|not working|dead|flat|out of order|stuck|bust|fogged)\b"
)
_SHOULD_HAVE = re.compile(r"\bshould (have|has) (been|said|read)\b|\b(it|that) should read\b")
"""Puts right what was said, and plans nothing."""
_WAS = re.compile(r"\b(was|were)\b")
_BOTTLES = re.compile(r"\b(bottles?|jars?|flasks?)\b")
_HARMLESS_NOT = re.compile(
    r"\b(not bad|no problem|no worries|no wait|why not|not a problem|no foam|not much|no doubt"
    r"|can not believe|will not believe|nothing else|not long ago|no more than|no less than"
    r"|not only|can not (feel|see|find|spot) (a|any) (grains?|crystals?|lumps?|sugar|bits?))\b"
)
_LEAD = frozenset(listed("words.toml", "small", "leads"))


def stances(found: Sequence[Clause]) -> tuple[Stance, ...]:
    """The stance of each clause, conditions and questions reaching as far as they do."""
    each = [_alone(clause) for clause in found]
    for at, clause in enumerate(found):
        if at and clause.joiner == "or" and clause.mark.startswith("?"):
            each[at - 1] = each[at] = "question"
        if _is_condition(clause):
            same = [n for n, other in enumerate(found) if other.sentence == clause.sentence]
            for n in same:
                each[n] = "condition" if each[n] != "question" else "question"
    return tuple(each)


def _alone(clause: Clause) -> Stance:
    return next((stance for stance, holds in _CHECKS if holds(clause)), "fact")


def _is_bound(clause: Clause) -> bool:
    past = _TOLD_PAST.search(clause.text) or re.search(r"\bi put\b", clause.text)
    if clause.joiner in ("once", "when"):
        return not past
    return clause.joiner in _BOUNDS


def _is_past(clause: Clause) -> bool:
    return bool(pattern(FILE, "stance", "past").search(clause.text)) or _was_so_warm(clause)


def _was_so_warm(clause: Clause) -> bool:
    """A temperature that was: a weight that was, and bottles that were, are so still."""
    counted = _BOTTLES.search(clause.text) is not None
    kinds = ("degrees",) if counted else ("degrees", "bare")
    level = any(q.kind in kinds for q in quantities(clause.words))
    return level and bool(_WAS.search(clause.text)) and "now" not in clause.words


def _is_guess(clause: Clause) -> bool:
    if _INSTRUMENT.search(clause.text) and _FAULTY.search(clause.text):
        return True
    return bool(pattern(FILE, "stance", "guess").search(clause.text))


def _is_plan(clause: Clause) -> bool:
    text = _SHOULD_HAVE.sub(" ", clause.text)
    return bool(pattern(FILE, "stance", "plan").search(text) or _ORDER.match(text))


def _is_elsewhere(clause: Clause) -> bool:
    """A temperature or a plain number of the oven, the room, the phone; a weight is not."""
    if pattern(FILE, "stance", "elsewhere").search(clause.text):
        return True
    found = quantities(clause.words)
    if _VESSEL.search(clause.text) and any(q.kind == "amount" for q in found):
        return True
    if not pattern(FILE, "stance", "elsewhere_warm").search(clause.text):
        return False
    return any(q.kind in ("degrees", "bare") for q in found)


def _is_condition(clause: Clause) -> bool:
    if clause.joiner in ("if", "unless"):
        return True
    return bool(pattern(FILE, "stance", "condition").search(clause.text))


def _is_question(clause: Clause) -> bool:
    words = list(clause.words)
    while words and words[0] in _LEAD:
        words.pop(0)
    if pattern(FILE, "open", "wh").match(" ".join(words)) or _asks_of_a_number(words):
        return True
    return clause.mark.startswith("?") and not _is_hedged_telling(clause)


def _asks_of_a_number(words: list[str]) -> bool:
    """ "Is eighty too hot", "sixty too low": a number is held up to be judged."""
    numbers = parser().lattices.number_words
    if words[:1] and words[0] in _AUXILIARY and words[1:2] and words[1] in numbers:
        return True
    return bool(_JUDGED.search(" ".join(words))) and not numbers.isdisjoint(words)


_AUXILIARY = ("is", "are", "was", "would", "will", "does", "do", "should", "can", "could", "may")
_JUDGED = re.compile(
    r"\btoo (hot|high|much|cold|low|little|cool|warm|few|many|long|short|sour|sweet|late|soon)\b"
    r"|\b(enough|ok|okay|alright|all right|fine) (or not|for|then|now|still)\b"
)


def _is_hedged_telling(clause: Clause) -> bool:
    """ "It's like 45?" tells, with a doubt in the voice."""
    return bool(
        re.match(
            r"(um |er |uh |well |so )*(it|they|that|there|we|i) (is|are|am|have)\b", clause.text
        )
    )


def is_denied(text: str) -> bool:
    """Whether something is said not to be so."""
    plain = _HARMLESS_NOT.sub(" ", text)
    return bool(pattern(FILE, "stance", "denial").search(plain))


def _is_hearsay(clause: Clause) -> bool:
    text = clause.text
    if not pattern(FILE, "stance", "hearsay").search(text):
        return False
    # "My jam thermometer says": an instrument is no hearsay, whoever owns it.
    return not (_INSTRUMENT.search(text) and _SAYS.search(text))


_CHECKS: tuple[tuple[Stance, Callable[[Clause], bool]], ...] = (
    ("question", _is_question),
    ("elsewhere", _is_elsewhere),
    ("bound", _is_bound),
    ("hearsay", _is_hearsay),
    ("past", _is_past),
    ("guess", _is_guess),
    ("denial", lambda clause: is_denied(clause.text)),
    ("plan", _is_plan),
)
"""In this order: the first that holds is the stance."""
