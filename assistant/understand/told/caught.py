"""What was caught of a sentence not understood: its number, its thing, a word of danger."""

from typing import Literal

from assistant.understand.told.clauses import clauses
from assistant.understand.told.lexicon import pattern
from assistant.understand.told.spans import quantities, things

Danger = Literal["spoiled", "burn", "ill", "glass"]


def caught(text: str) -> str:
    """The first amount or thing in a text, in plain words; "" for none.

    >>> caught("i've got 400 grams of almonds")
    'four hundred grams'
    """
    for clause in clauses(text):
        for q in quantities(clause.words):
            thing = next((t for t in things(clause.words) if t.begin >= q.end), None)
            named = clause.words[thing.begin : thing.end] if thing else ()
            after = clause.words[q.end : q.end + 1]
            more = named or (after if q.kind == "bare" and after[:1] and after[0].isalpha() else ())
            return " ".join((*q.words, *(("of",) if named and q.kind != "bare" else ()), *more))
    for clause in clauses(text):
        for thing in things(clause.words):
            return " ".join(clause.words[thing.begin : thing.end])
    return ""


def danger(text: str) -> Danger | None:
    """What may be dangerous in a text, by its words alone.

    >>> danger("I scalded my hand")
    'burn'
    """
    plain = " ".join(clause.text for clause in clauses(text))
    names: tuple[Danger, ...] = ("ill", "burn", "glass", "spoiled")
    return next((n for n in names if pattern("words.toml", "danger", n).search(plain)), None)
