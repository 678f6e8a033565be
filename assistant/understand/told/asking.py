"""Whether a sentence asks, and how a fragment goes on with the last question."""

import re

from assistant.facts.events import Ask
from assistant.understand.told.clauses import clauses
from assistant.understand.told.spans import things
from assistant.understand.told.stance import stances

_GOES_ON = re.compile(r"^(and|or|but|what about|how about|and what about|also)\b")
_LONGEST = 7
_PLACES = (
    ("freezer", re.compile(r"\b(freezer|frozen|freeze)\b")),
    ("fridge", re.compile(r"\b(fridge|refrigerator)\b")),
    ("shelf", re.compile(r"\b(shelf|room temperature|outside|cupboard|pantry|larder)\b")),
    ("opened", re.compile(r"\b(open|opened|opening)\b")),
)


def is_question(text: str) -> bool:
    """Whether any part of a text asks, with a mark or without.

    >>> is_question("is eighty too hot"), is_question("it says eighty")
    (True, False)
    """
    found = clauses(text)
    return text.rstrip().endswith("?") or any(
        stance in ("question", "condition") for stance in stances(found)
    )


def tells_plainly(text: str) -> bool:
    """Whether a text only tells what is or was: nothing denied, planned, guessed or asked.

    >>> tells_plainly("it has mould"), tells_plainly("no mould at all")
    (True, False)
    """
    plain = all(stance in ("fact", "past") for stance in stances(clauses(text)))
    return plain and not _NONE.search(text.casefold())


_NONE = re.compile(r"\b(no|not|never|none|without|any|isn't|n't)\b")


def follow_up(text: str, subject: Ask | None) -> Ask | None:
    """The last question with another thing or place in it: "and the water?" after the sugar.

    None where the text is no such fragment, or the question can't be asked of that.
    """
    words = tuple(word for clause in clauses(text) for word in clause.words)
    plain = " ".join(words)
    lead = _GOES_ON.match(re.sub(r"[^\w' ]", " ", text.casefold()).strip())
    if subject is None or not lead or len(words) > _LONGEST:
        return None
    if subject.topic == "keep":
        place = next((name for name, said in _PLACES if said.search(plain)), None)
        return subject.model_copy(update={"about": place}) if place else None
    if subject.topic in ("how_much", "may_i"):
        named = [t.what for t in things(words)]
        if subject.topic == "how_much" and len(named) == 1:
            about = "syrup" if named[0] == "yield" else named[0]
            return subject.model_copy(update={"about": about})
    return None
