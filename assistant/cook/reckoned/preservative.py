"""The preservative in a batch against its ceilings, now and with a dose that is only talked of."""

from collections.abc import Iterator

from assistant.cook.batch import Batch
from assistant.cook.reckoned.pan import Answer, closed_to_change, grams, no_amount, no_pan
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.totals import (
    in_syrup,
    least_volume,
    over_ceiling,
    over_line,
    room_g,
    stuff_total,
)
from assistant.facts.events import Ask
from assistant.facts.stuff import PRESERVATIVES, stuff_words

_NAMED = ("sorbate", "benzoate", "sulphite")


def preservative_now(batch: Batch, event: Ask) -> Answer:
    """All that went in, how strong that is, and what may still go in."""
    if least_volume(batch) is None:
        return no_pan(batch)
    wanted = tuple(n for n in _NAMED if event.number(n)) or tuple(PRESERVATIVES)
    lines = tuple(_told(batch, wanted))
    if lines:
        return lines
    if batch.bottled is not None:
        return (Line(id="reckoned.no_preservative_in", rank="answer"),)
    room = room_g(batch, wanted[0] if event.number(wanted[0]) else "sorbate")
    if room is None or "sorbate" not in batch.recipe.amounts:
        return (Line(id="reckoned.no_preservative", rank="answer"),)
    stuff = stuff_words(wanted[0] if event.number(wanted[0]) else "sorbate")
    facts: dict[str, Fact] = {"room": grams(room), "stuff": stuff}
    return (Line(id="reckoned.preservative_room", rank="answer", facts=facts),)


def _told(batch: Batch, wanted: tuple[str, ...]) -> Iterator[Line]:
    for stuff in wanted:
        total = stuff_total(batch, stuff)
        if not total:
            continue
        over = over_ceiling(batch, stuff)
        if over is not None:
            yield over_line(over)
        facts: dict[str, Fact] = {
            "total": grams(total),
            "stuff": stuff_words(stuff),
            "dose": _dose(in_syrup(batch, stuff)),
            "room": grams(room_g(batch, stuff) or 0.0),
        }
        none_left = not (room_g(batch, stuff) or 0.0)
        line = "reckoned.preservative_full" if none_left else "reckoned.preservative_in"
        yield Line(id=line, rank="answer", facts=facts)


def dose_if(batch: Batch, event: Ask) -> Answer:
    """What a weight of a preservative would come to with all that is in; past a ceiling, no."""
    added = event.number("added")
    stuff = next((n for n in _NAMED if event.number(n)), "sorbate")
    refused = no_amount(added) or closed_to_change(batch)
    if refused or added is None:
        return refused
    if least_volume(batch) is None:
        return no_pan(batch)
    over = over_ceiling(batch, stuff, added)
    if over is not None:
        return (over_line(over), *_still(batch, stuff))
    facts: dict[str, Fact] = {
        "added": grams(added),
        "stuff": stuff_words(stuff),
        "dose": _dose(in_syrup(batch, stuff, added)),
    }
    inside = (room_g(batch, stuff) or 0.0) >= added
    line = "reckoned.dose_inside" if inside else "reckoned.dose_drink_only"
    return (Line(id=line, rank="answer", facts=facts), *_still(batch, stuff))


def _still(batch: Batch, stuff: str) -> Answer:
    facts: dict[str, Fact] = {
        "room": grams(room_g(batch, stuff) or 0.0),
        "stuff": stuff_words(stuff),
    }
    return (Line(id="reckoned.may_still", rank="detail", facts=facts),)


def _dose(value: float) -> Quantity:
    return Quantity(value=round(value, 2), unit="g/l", exact=True)
