"""What is said without what is said around it: names for the listener, fillers, other sentences.

A likeness of meaning is taken over a whole text, so "Whatever is it for, my love? I've only just
sat down" would lie between a question and talk.
"""

import re

_AROUND = (
    r"(?:my )?(?:dear|dears|dearie|love|luv|lovely|sweetheart|sweetie|darling|pet|duck|hen)"
    r"|mate|pal|bro|bruv|dude|fam|man|boss|chef|sir|madam|ma'?am|friend|beta|bhai|yaar|ji|na|da"
    r"|please|pls|plz|kindly|lol|lmao|haha|omg|tbh|innit|yo|hey|hi|hello|oi|oh|ooh|ah|oops|er"
    r"|erm|um|uh|hmm|well|right|okay|ok|now then|so|and so|anyway|actually|basically|listen|look"
    r"|excuse me|if you (?:please|don't mind)|thanks|thank you|ta|cheers|mercy|goodness"
    r"|good heavens|heavens|gosh|blimey|bother|dear me|dear oh dear|quick question|quickly"
)
_BEFORE = re.compile(rf"^(?:(?:{_AROUND})\b[\s,.!:…-]*)+", re.I)
_AFTER = re.compile(rf"(?:[\s,]+(?:{_AROUND}))+(?=[\s.!?…]*$)", re.I)
_BETWEEN = re.compile(rf",\s*(?:{_AROUND})\s*,", re.I)
_END = re.compile(r"(?<=[.!?…;])\s+|\s+[-–—]+\s+")
_SHORTEST = 3
"""Words of a part that is looked at by itself; a shorter one leans on the rest."""
_LARGEST = 6
"""So many parts are looked at; who says more tells a story."""


def plainly(text: str) -> str:
    """A text without fillers and names for the listener; as it was where nothing is left.

    >>> plainly("Oh dear, is it meant to be that thick, love?")
    'is it meant to be that thick?'
    >>> plainly("sorry?"), plainly("please")
    ('sorry?', 'please')
    """
    bare = _BETWEEN.sub(",", text.strip())
    bare = _AFTER.sub("", _BEFORE.sub("", bare)).strip()
    return bare if re.search(r"\w", bare) else text.strip()


def parts(text: str) -> tuple[str, ...]:
    """The sentences of a text that may stand by themselves; () where it is only one.

    >>> parts("I was out. How far did we get? Hm.")
    ('I was out.', 'How far did we get?')
    """
    found = [plainly(part) for part in _END.split(text.strip()) if part.strip()]
    if len(found) < 2:
        return ()
    return tuple(part for part in found[:_LARGEST] if len(part.split()) >= _SHORTEST)
