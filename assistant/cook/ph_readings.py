"""What a pH does to a batch: counts it, asks about one that can't be, stops above the bound."""

from dataclasses import replace

from assistant.base.errors import PansideError
from assistant.calc.acid_fit import FIT_PH, dose_spread, fruit_acidity
from assistant.calc.acid_measure import METER_PH
from assistant.calc.spread import Spread
from assistant.cook.basket import figures
from assistant.cook.batch import Batch
from assistant.cook.changes import Step, changed, onward
from assistant.cook.finished_ph import acid_since, share_of_fruit
from assistant.cook.judging import limit_line, read_back
from assistant.cook.kinds import Measure
from assistant.cook.lasting import Disbelieved, Lasting
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.cook.souring import acid_advice
from assistant.cook.stages import announce
from assistant.cook.stock import syrup
from assistant.facts.events import Reading
from assistant.limits import above_makers, is_low_acid, tripped

SAME_PH = 0.15
"""Read twice no further apart, a pH that was doubted is taken (common practice, no source). [-]"""
LITTLE_ACID = Spread(0.5, 2.0, 8.0)
"""Acidity taken where the fruit's is not known, as citric acid: from memory. [g/l]"""


def take_ph(batch: Batch, event: Reading) -> Step:
    """The latest pH decides. At the regulation's bound the batch waits until it is lower."""
    doubt = _doubted(batch, event) if batch.rules else None
    if doubt is not None:
        return doubt
    batch_ = replace(batch, lasting=_believed(batch, event.base), ph_by=None)
    limit = tripped("ph", event.base)
    if limit is not None and batch.recipe.acidity == "low-acid":
        return _take_low_acid_ph(batch, batch_, event)
    stop = limit.id if limit and limit.effect == "stop" else None
    after = replace(batch_.with_reading(event), stopped_by=stop, insisted=None)
    if limit is None:
        lines = (read_back(event), *_hint(batch, event), *_soured_by(batch))
        return _counted(batch, after, event, *lines)
    after = replace(after, lasting=replace(after.lasting, high_ph=after.last("ph")))
    asked = () if stop else (Line(id="ph_instrument", rank="question"),)
    lines = (limit_line(limit, event), *acid_advice(after, event.base), *asked)
    return changed(batch, after), Reply(lines=lines, stopped=stop is not None)


def _counted(batch: Batch, after: Batch, event: Reading, *lines: Line) -> Step:
    """It goes on to the next stage only where one waits for it."""
    if isinstance(batch.stage, Measure) and batch.stage.reading == "ph":
        return onward(batch, after, event.at, *lines)
    freed = batch.stopped_by is not None and after.stopped_by is None and not after.bottled
    next_ = announce(after, event.at) if freed else ()
    return changed(batch, after), Reply(lines=(*lines, *next_))


def _take_low_acid_ph(batch: Batch, believing: Batch, event: Reading) -> Step:
    """A recipe that is low-acid from the start keeps days only, whatever is measured."""
    after = believing.with_reading(event)
    return _counted(batch, after, event, read_back(event), Line(id="ph_low_acid", rank="caution"))


def _soured_by(batch: Batch) -> tuple[Line, ...]:
    """Where acid alone makes it keep, the instrument matters at any pH."""
    return (Line(id="ph_instrument", rank="question"),) if batch.recipe.acidity == "soured" else ()


def _hint(batch: Batch, event: Reading) -> tuple[Line, ...]:
    targets = batch.recipe.targets
    if event.base < targets.ph_low:
        return (Line(id="ph_odd", rank="caution"),)
    if event.base > targets.ph_high:
        high = Quantity(value=targets.ph_high, unit="pH", exact=True)
        return (Line(id="ph_highish", rank="detail", facts={"high": high}),)
    return ()


def _doubted(batch: Batch, event: Reading) -> Step | None:
    """A drop that the acid put in since can't explain is asked; read a second time it is taken."""
    found = _unexplained(batch, event.base)
    if found is None or _read_twice(batch, event.base):
        return None
    facts: dict[str, Fact] = {
        "was": Quantity(value=found.was, unit="pH", exact=True),
        "now": Quantity(value=found.then, unit="pH", exact=True),
    }
    line = Line(id="ph_unexplained_any", rank="question", facts=facts)
    if found.least is not None:
        facts["least"] = Quantity(value=found.least, unit="g")
        line = Line(id="ph_unexplained", rank="question", facts=facts)
    lasting = replace(batch.lasting, doubted=event.base)
    return replace(batch, lasting=lasting), Reply(lines=(line,), stopped=batch.stopped)


def _read_twice(batch: Batch, ph: float) -> bool:
    doubted = batch.lasting.doubted
    return doubted is not None and abs(ph - doubted) <= SAME_PH


def _believed(batch: Batch, ph: float) -> Lasting:
    """The batch's memory after a pH is taken; one that was doubted first is written down.

    The high one is remembered until a pH is read that the acid put in explains: read a second time,
    a doubted pH lets the batch go on, and earns no days.
    """
    found = _unexplained(batch, ph)
    if found is None:
        return replace(batch.lasting, high_ph=None, doubted=None)
    return replace(batch.lasting, doubted=ph, disbelieved=(*batch.lasting.disbelieved, found))


def _unexplained(batch: Batch, ph: float) -> Disbelieved | None:
    """The drop from the last high pH, where it crosses a bound and too little acid went in."""
    high = batch.lasting.high_ph
    if high is None or not _crosses(high.base, ph):
        return None
    put_in = acid_since(batch, high)
    if put_in is None:
        return None
    least = least_acid(batch, high.base, ph)
    enough = put_in > 0 if least is None else put_in >= least
    return None if enough else Disbelieved(high.base, ph, put_in, least)


def _crosses(was: float, now: float) -> bool:
    """Whether more hangs on it than a meter is off."""
    over = is_low_acid(was) != is_low_acid(now) or above_makers(was) != above_makers(now)
    return over and was - now > METER_PH


def least_acid(batch: Batch, was: float, now: float) -> float | None:
    """The least citric acid that brings the batch from one pH to another, where known. [g]"""
    stock = syrup(batch)
    if stock is None or batch.start is None or batch.recipe.base == "water":
        return None
    acidity, main = LITTLE_ACID, "citric"
    try:
        fruit = figures(batch)
        if fruit is not None:
            share = share_of_fruit(batch, stock.mass_g.likely)
            acidity, main = fruit_acidity(fruit, share)
    except PansideError:
        acidity, main = LITTLE_ACID, "citric"
    try:
        start = min(was, FIT_PH[1] - METER_PH)
        dose = dose_spread(start, acidity, now + METER_PH, main_acid=main).low
    except PansideError:
        return None
    return dose * stock.volume_ml.low / 1000
