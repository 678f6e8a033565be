"""Lines that judge a reading: read back, and a limit's own words."""

from assistant.calc.capacity import unsure_ml
from assistant.cook.reply import Line, Quantity, Rank
from assistant.facts.events import Reading
from assistant.limits import Limit


def read_back(event: Reading, words: str = "") -> Line:
    """The reading as it was said, so that a wrong one is heard; `words` name what it is of."""
    said = Quantity(value=event.value, unit=event.unit, exact=True)
    if words:
        return Line(id="read_back_of", rank="read_back", facts={"said": said, "stuff": words})
    return Line(id="read_back", rank="read_back", facts={"said": said})


def whose_measure(event: Reading) -> tuple[Line, ...]:
    """Pints, cups and fluid ounces are not the same everywhere: say which was taken."""
    if event.unit not in ("pint", "cup", "fl_oz"):
        return ()
    took, most = event.base, unsure_ml(event.unit, min(event.value, 1000.0)).high
    facts = {"took": Quantity(value=took, unit="ml"), "most": Quantity(value=most, unit="ml")}
    return (Line(id="whose_measure", rank="caution", facts=facts),)


def limit_line(limit: Limit, event: Reading) -> Line:
    """What a limit has to say about a reading that trips it."""
    bound = Quantity(value=limit.bound, unit=limit.unit, exact=True)
    said = Quantity(value=event.value, unit=event.unit, exact=True)
    rank: Rank = "limit" if limit.effect == "stop" else "caution"
    return Line(id="limit", rank=rank, text=limit.words, facts={"value": said, "bound": bound})
