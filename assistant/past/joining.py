"""Which events of two kitchens go together, when both went on with one batch."""

from assistant.cook import fold, step
from assistant.facts.events import AnyEvent
from assistant.keep import Brought, sentence

_HARMLESS = ("note", "ask", "say_again", "manner", "stop")
_BOTTLES = ("used", "opened", "moved", "sign", "recalled", "discard")


def may_join(held: tuple[AnyEvent, ...], missing: tuple[AnyEvent, ...]) -> bool:
    """Whether the other kitchen's events may follow: remarks always, bottles once they are filled.

    What one kitchen does to the bottles is true whatever the other does meanwhile. What is done to
    a batch in the making is not, and to take something back would take back another's.
    """
    kinds = {event.kind for event in missing}
    if not kinds <= {*_HARMLESS, *_BOTTLES}:
        return False
    return kinds <= set(_HARMLESS) or fold(held)[0].bottled is not None


def disputed(held: tuple[AnyEvent, ...], added: tuple[AnyEvent, ...]) -> list[AnyEvent]:
    """Events that can't be after the others: more bottles taken than there were, for example."""
    batch, _ = fold(held)
    found: list[AnyEvent] = []
    for event in added:
        after, _ = step(batch, event)
        if event.kind in _BOTTLES and after.before is not batch:
            found.append(event)
        batch = after
    return found


def told(found: Brought) -> str:
    """What became of a batch, and what of it can't be."""
    odd = disputed(found.held, found.added) if found.how == "joined" else []
    if not odd:
        return sentence(found)
    kinds = ", ".join(event.kind for event in odd)
    return (
        f"{sentence(found)} What both wrote can't all be: count its bottles. Written down, but not"
        f" counted: {kinds}."
    )
