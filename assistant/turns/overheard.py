"""Speech that was read freely and sounds like talk to somebody else: asked about, or let go.

"She's crushed about it" tells the stage's deed word for word, and "thirty-one degrees out there" a
temperature. What lies nearer to kitchen talk than to anything that is said to us is never taken as
it stands; what lies nearer by far is left alone, signs of spoilage excepted.
"""

from typing import TYPE_CHECKING

from assistant.facts.events import Sign
from assistant.understand import Understood
from assistant.understand.verdict import ask, refuse

if TYPE_CHECKING:
    from assistant.gist import Gist

TALK_FROM = 0.55
"""From here a likeness to talk counts at all (0 to 1)."""
RATHER, BY_FAR = 0.05, 0.15
"""So much nearer to talk: asked instead of taken, and left alone. Fitted on what was told on the
panel's open halves and on every second line of its third round of talk."""
LET_GO = 0.1
"""The same for what would only be asked about."""


def as_overheard(found: Understood, text: str, gist: "Gist") -> Understood:
    """What freely read speech comes to, where it may have been meant for somebody else.

    text : the words; gist : the sentence model
    """
    from assistant.answers.nearness import nearer_to_talk

    nearer = nearer_to_talk(text, gist, TALK_FROM)
    sign = any(isinstance(event, Sign) for event in found.events)
    if found.verdict == "take" and nearer >= RATHER:
        return refuse("chatter") if nearer >= BY_FAR and not sign else ask("unsure", found.events)
    if found.verdict == "ask" and nearer >= LET_GO:
        return refuse("chatter")
    return found
