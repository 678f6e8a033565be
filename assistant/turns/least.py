"""The number in a typed sentence of which nothing else was understood: it is asked about.

"It went four, three point eight, three point six and there it stuck" ends at what the meter says.
Speech is left out: what nobody understands there is more often meant for somebody else.
"""

from assistant.facts.events import Reading
from assistant.hear.heard import Heard
from assistant.turns.moment import Moment
from assistant.understand import Understood, understand
from assistant.understand.told import is_question
from assistant.understand.told.clauses import clauses
from assistant.understand.told.spans import quantities, things
from assistant.understand.told.stance import stances
from assistant.understand.verdict import ask

_TELLS = ("fact", "past")


def number_at_least(heard: Heard, now: Moment, planned: bool = False) -> Understood | None:
    """The question about the last number that fits what is asked for; None where none does.

    heard : what was typed; now : where the cook stands
    planned : only a number that lies near one that the plan tells
    """
    first = now.asked.awaited[0] if now.asked.awaited else None
    if first is None or (planned and first.planned is None):
        return None
    if heard.engine != "typed" or is_question(heard.text):
        return None
    said = clauses(heard.text)
    if any(stance not in _TELLS for stance in stances(said)):
        return None
    named = {thing.what for clause in said for thing in things(clause.words)}
    if named - {first.what}:
        return None
    for clause in reversed(said):
        for quantity in reversed(quantities(clause.words)):
            events = _alone(" ".join(quantity.words), now)
            if events and events[0].what == first.what and first.fits_plan(events[0].base):
                return ask("unsure", events)
    return None


def _alone(words: str, now: Moment) -> tuple[Reading, ...]:
    """What the number comes to by itself, where that is one reading."""
    found = understand(Heard.typed(words), now.asked, now.at, None)
    match found.events:
        case (Reading() as read,):
            return (read,)
        case _:
            return ()
