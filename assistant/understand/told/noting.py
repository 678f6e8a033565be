"""A remark that is to be written down: "make a note that it came out thin"."""

import re

from assistant.facts.events import Note
from assistant.understand.told.part import Part
from assistant.understand.told.spans import quantities
from assistant.understand.told.talk import Talk

_NOTE = re.compile(
    r"^\W*(?:(?:ok|okay|right|please|and|oh|now|can you|could you|kindly)[\s,]+)*"
    r"(?:(?:make|take|keep) (?:a |me a )?note(?: down)?(?: that| of)?"
    r"|(?:write|jot|note|scribble)(?: it| this| me)? down(?: that)?"
    r"|put down that|for the record)[\s,:]+(?P<text>\S.*)$",
    re.I | re.S,
)


def note_parts(text: str, talk: Talk) -> list[Part]:
    """The remark, where it holds no number that may be a reading."""
    found = _NOTE.match(text.strip())
    if found is None or any(quantities(clause.words) for clause in talk.clauses):
        return []
    said = found["text"].strip().rstrip(".")
    return [Part(events=(Note(at=talk.at, heard=text, text=said),), what="note")]
