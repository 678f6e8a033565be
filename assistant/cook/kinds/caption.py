"""What a kind of stage shows across the room, in short words from the catalogue."""

from assistant.base.units import Unit
from assistant.cook.reply import Fact, Line, Quantity


def caption(line_id: str, **facts: Fact) -> Line:
    """A few words for the page."""
    return Line(id=line_id, rank="detail", facts=facts)


def exactly(value: float, unit: Unit) -> Quantity:
    """A number as it was read, without the dust of conversions."""
    return Quantity(value=round(value, 3), unit=unit, exact=True)
