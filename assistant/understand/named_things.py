"""A recipe's own ingredients in what was said: no grammar knows them, the batch does.

The name is put into the grammars' one word for such things before a sentence is read, and what
was read is stamped with the ingredient that was named: bounds and questions stay in one place.
"""

import re
from collections.abc import Callable

from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Ask, Correct, Reading
from assistant.facts.stuff import OWN
from assistant.hear.heard import Guess, Heard
from assistant.understand.verdict import Question, Understood

Read = Callable[[Heard], Understood]


def with_own_names(heard: Heard, asked: Asked, read: Read) -> Understood:
    """What `read` makes of an utterance in which the recipe's own ingredients may be named.

    Two of them in one sentence are left as they are, and the grammars refuse them.
    """
    named = _named(heard, dict(asked.things))
    if named is None:
        return read(heard)
    pattern, key = named
    hidden = heard.model_copy(
        update={
            "text": _hide(heard.text, pattern),
            "guesses": _all_hidden(heard.guesses, pattern),
            "second": _all_hidden(heard.second, pattern),
        }
    )
    return _stamped(read(hidden), key, heard.text)


def _named(heard: Heard, things: dict[str, str]) -> tuple[re.Pattern[str], str] | None:
    """The one ingredient that is named in any guess, and what finds its names."""
    if not things:
        return None
    text = " / ".join((heard.text, *(g.text for g in (*heard.guesses, *heard.second)))).lower()
    found = {key for said, key in things.items() if re.search(_word(said), text)}
    longer = {key for key in found if not _within_another(key, found, things, text)}
    if len(longer) != 1:
        return None
    key = longer.pop()
    names = sorted((said for said, of in things.items() if of == key), key=len, reverse=True)
    return re.compile("|".join(map(_word, names)), re.IGNORECASE), key


def _within_another(key: str, found: set[str], things: dict[str, str], text: str) -> bool:
    """Whether it is only named as part of a longer name: "ginger" in "ginger juice"."""
    others = [said for said, of in things.items() if of in found and of != key]
    for mine in (said for said, of in things.items() if of == key):
        left = text
        for said in sorted(others, key=len, reverse=True):
            if len(said) > len(mine):
                left = re.sub(_word(said), " ", left)
        if re.search(_word(mine), left):
            return False
    return True


def _word(said: str) -> str:
    return rf"\b{re.escape(said)}\b"


def _hide(text: str, pattern: re.Pattern[str]) -> str:
    return pattern.sub(OWN, text)


def _all_hidden(guesses: tuple[Guess, ...], pattern: re.Pattern[str]) -> tuple[Guess, ...]:
    return tuple(guess.model_copy(update={"text": _hide(guess.text, pattern)}) for guess in guesses)


def _stamped(found: Understood, key: str, text: str) -> Understood:
    """The same with the ingredient named in every event that is of one."""

    def of(events: tuple[AnyEvent, ...]) -> tuple[AnyEvent, ...]:
        return tuple(_of(event, key, text) for event in events)

    question = found.question
    if question is not None:
        candidates = tuple(of(c) for c in question.candidates)
        question = Question(kind=question.kind, candidates=candidates, reason=question.reason)
    update = {"events": of(found.events), "also": of(found.also), "question": question}
    return found.model_copy(update=update)


def _of(event: AnyEvent, key: str, text: str) -> AnyEvent:
    if isinstance(event, Reading | Correct) and event.what == OWN:
        return event.model_copy(update={"of": key, "heard": text})
    if isinstance(event, Ask) and event.about == OWN:
        return event.model_copy(update={"about": key, "heard": text})
    return event
