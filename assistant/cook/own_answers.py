"""Answers from this batch: how hot its recipe wants it, what went in, what was filled."""

from datetime import datetime

from assistant.cook.amounts import quantity
from assistant.cook.batch import Batch
from assistant.cook.cards import card_lines
from assistant.cook.filling import forecast
from assistant.cook.holding import hold_stage
from assistant.cook.kinds import Cool, Heat, Hold, Reduce
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.sorts import count_line, sized
from assistant.cook.souring import acid_advice
from assistant.cook.stock import HALF_LITRE, bottles_for, syrup
from assistant.facts.events import Ask
from assistant.facts.stuff import read_as, stuff_of, stuff_words
from assistant.facts.vessels import Vessel

Answer = tuple[Line, ...]


def how_hot(batch: Batch) -> Answer:
    """What the recipe wants of the thermometer now, else of its hold; () where it wants nothing."""
    stage = batch.stage
    if isinstance(stage, Cool):
        return (Line(id="how_cool", rank="answer", facts=stage.figures()),)
    if isinstance(stage, Reduce):
        return (Line(id="how_hot_boil", rank="answer"),)
    hold = stage if isinstance(stage, Hold) else hold_stage(batch)
    if hold is not None:
        ceiling = Quantity(value=hold.ceiling_c, unit="degC", exact=True)
        facts: dict[str, Fact] = {**hold.figures(), "ceiling": ceiling}
        return (Line(id="how_hot", rank="answer", facts=facts),)
    if isinstance(stage, Heat):
        return (Line(id="how_hot_only", rank="answer", facts=stage.figures()),)
    return ()


def went_in(batch: Batch, matter: str) -> Answer:
    """How much of something has gone in, by what was said or taken as planned."""
    if matter in ("fruit", "juice"):
        return _measured(batch, matter)
    names = dict.fromkeys(a.name for a in batch.added if matter in _called(a.name))
    lines = tuple(_went(batch, name) for name in names)
    if lines:
        return lines
    return (Line(id="none_went_in", rank="answer", facts={"stuff": stuff_words(matter)}),)


def _called(name: str) -> tuple[str, ...]:
    return (name, read_as(name) or "", stuff_of(name))


def _went(batch: Batch, name: str) -> Line:
    added = batch.addition(name)
    unit = added.unit if added else "g"
    amount = Quantity(value=batch.total(name), unit=unit)
    words = batch.recipe.words(name)
    return Line(id="went_in", rank="answer", facts={"amount": amount, "stuff": words})


def _measured(batch: Batch, what: str) -> Answer:
    taken = batch.last(what)
    if taken is None:
        return (Line(id="none_went_in", rank="answer", facts={"stuff": stuff_words(what)}),)
    had = Quantity(value=taken.reading.value, unit=taken.reading.unit, exact=True)
    facts: dict[str, Fact] = {"amount": had, "stuff": stuff_words(what)}
    return (Line(id="went_in", rank="answer", facts=facts),)


def acid_due(batch: Batch, about: str | None) -> Answer:
    """While a pH stops the batch: the dose that was said then, less what went in since."""
    ph = batch.last("ph")
    if batch.stopped_by is None or ph is None or about not in ("citric_acid", "acid"):
        return ()
    return acid_advice(batch, ph.base)


def bottles(batch: Batch) -> Answer:
    """What was filled, once it is; before that how many the syrup is likely to fill."""
    filled = batch.bottled
    if filled is not None:
        facts: dict[str, Fact] = {"count": filled.count, "left": batch.in_store}
        if len(filled.sorts) > 1:
            left = Line(id="left_in_all", rank="answer", facts={"left": batch.in_store})
            return (*map(count_line, filled.sorts), left)
        if filled.size_ml is None:
            return (Line(id="bottles_filled", rank="answer", facts=facts),)
        facts |= sized(filled.sorts[0].vessel, filled.count)
        return (Line(id="bottles_sized_filled", rank="answer", facts=facts),)
    stock = syrup(batch)
    if stock is None:
        return (Line(id="fruit_first", rank="answer"),)
    if batch.recipe.bottles:
        return tuple(line for ml in batch.recipe.bottles.values() for line in _of_size(batch, ml))
    facts = {"count": bottles_for(stock), "size": Quantity(value=HALF_LITRE, unit="ml")}
    about = quantity(stock.volume_ml, "ml")
    return (Line(id="bottles", rank="answer", facts=facts | {"syrup": about}),)


def _of_size(batch: Batch, ml: float) -> Answer:
    asked = Ask(at=batch.entered_at, topic="bottles", vessel=Vessel(size_ml=ml))
    return forecast(batch, asked)


def fit_to_drink(batch: Batch, at: datetime) -> Answer:
    """This batch's pH, hold and date as far as they are known; no promise."""
    return card_lines(batch, "keep.fit", at)
