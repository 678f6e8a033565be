"""What the syrup can fill, and a count of bottles that can't be true beside it."""

from assistant.calc.scale import bottles_from
from assistant.cook.amounts import quantity
from assistant.cook.batch import Batch
from assistant.cook.expected import odd_count
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.sorts import sized
from assistant.cook.stock import HALF_LITRE, syrup
from assistant.facts.events import Ask
from assistant.facts.vessels import Lot, Vessel, inside_ml, together


def odd_filling(batch: Batch, lots: tuple[Lot, ...]) -> tuple[Line, ...]:
    """The question about bottles that the syrup can't fill, or that leave most of it; () else."""
    held, count = inside_ml(lots), sum(lot.count for lot in lots)
    lines, stock = odd_count(batch, count, held / count if held else None), syrup(batch)
    if not lines or held is None or stock is None or len(together(lots)) < 2:
        return lines
    facts: dict[str, Fact] = {
        "filled": Quantity(value=held, unit="ml"),
        "syrup": quantity(stock.volume_ml, "ml").likely(),
    }
    many = lines[0].id == "ask_bottles_many"
    return (Line(id="ask_filled_many" if many else "ask_filled_few", rank="question", facts=facts),)


def forecast(batch: Batch, event: Ask) -> tuple[Line, ...]:
    """How many of a size the syrup is likely to fill, after what is filled first."""
    stock = syrup(batch)
    if stock is None:
        return (Line(id="fruit_first", rank="answer"),)
    vessel = event.vessel or Vessel(size_ml=HALF_LITRE)
    first = inside_ml(event.lots) or 0.0
    rest = stock.volume_ml.likely - first
    if rest <= 0:
        about = quantity(stock.volume_ml, "ml")
        facts: dict[str, Fact] = {"filled": Quantity(value=first, unit="ml"), "syrup": about}
        return (Line(id="forecast_none", rank="answer", facts=facts),)
    filled = bottles_from(rest, vessel.size_ml or HALF_LITRE)
    over = Quantity(value=filled.left_ml, unit="ml")
    facts = {"count": filled.full, "over": over, **sized(vessel, filled.full)}
    if not event.lots:
        return (Line(id="forecast_of", rank="answer", facts=facts),)
    left = Quantity(value=rest, unit="ml")
    return (Line(id="forecast_rest", rank="answer", facts={**facts, "left": left}),)
