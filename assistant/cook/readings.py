"""What a reading does to a batch: counts it, judges it, and goes on where it was waited for."""

from assistant.base.units import BASE_UNIT, dimension
from assistant.cook.additions import take_ingredient
from assistant.cook.amounts import quantity
from assistant.cook.basket import called
from assistant.cook.batch import Batch
from assistant.cook.bottling import take_yield
from assistant.cook.brix import mended
from assistant.cook.changes import Handler, Step, changed, onward, stay
from assistant.cook.judging import read_back, whose_measure
from assistant.cook.kinds import Measure
from assistant.cook.ph_readings import take_ph
from assistant.cook.plan_told import plan_lines
from assistant.cook.reply import Line, Quantity, Reply
from assistant.cook.stages import announce
from assistant.cook.stock import main_sugar
from assistant.cook.temperature import take_temperature
from assistant.cook.weighing import take_weighed
from assistant.facts.events import Reading
from assistant.facts.stuff import RANGES, STUFF, stuff_words


def take_reading(batch: Batch, event: Reading) -> Step:
    """The batch with the reading judged, and what to say to it.

    What no small kitchen can mean is not taken, whoever confirmed it.
    """
    if event.what in ("fruit", "juice") and event.parts:
        return take_weighed(batch, event, _plain)
    return _plain(batch, event)


def _plain(batch: Batch, event: Reading) -> Step:
    low, high = RANGES[event.what]
    if not low <= event.base <= high:
        return stay(batch, _too_odd(event, low, high))
    if _waits_for(batch, event) and event.what not in _JUDGED:
        return _measure(batch, event)
    return _HANDLERS[event.what](batch, event)


def _measure(batch: Batch, event: Reading) -> Step:
    """Fruit and juice: welcome where the stage waits for them, told off politely elsewhere."""
    stage = batch.stage
    if not (isinstance(stage, Measure) and stage.reading == event.what):
        return stay(batch, _not_now(batch, event), *announce(batch, event.at))
    if not stage.low <= event.base <= stage.high:
        return stay(batch, _too_odd(event, stage.low, stage.high))
    if event.what == batch.recipe.base and batch.lasting.refused is not None:
        facts = {"fruit": called(batch.lasting.refused)}
        return stay(batch, Line(id="fruit_low_acid", rank="limit", facts=facts))
    after = batch.with_reading(event)
    moved, reply = onward(batch, after, event.at, read_back(event))
    metal = (Line(id="reactive_metal", rank="detail"),) if after.start is after.taken[-1] else ()
    lines = (*reply.lines, *whose_measure(event), *plan_lines(after), *metal)
    return moved, reply.model_copy(update={"lines": lines})


def _not_now(batch: Batch, event: Reading) -> Line:
    had, words = batch.last(event.what), f"the {stuff_words(event.what)}"
    if had is None:
        return Line(id="not_asked_yet", rank="answer", facts={"what": words})
    said = Quantity(value=had.reading.value, unit=had.reading.unit, exact=True)
    return Line(id="have_already", rank="answer", facts={"what": words, "had": said})


def _too_odd(event: Reading, low: float, high: float) -> Line:
    said = Quantity(value=event.value, unit=event.unit, exact=True)
    unit = BASE_UNIT[dimension(event.unit)]
    bounds = {
        "low": Quantity(value=low, unit=unit, exact=True),
        "high": Quantity(value=high, unit=unit, exact=True),
    }
    return Line(id="too_odd", rank="question", facts={"said": said, **bounds})


def _counted(batch: Batch, after: Batch, event: Reading, *lines: Line) -> Step:
    """A reading that counts at any time goes on to the next stage only where one waits for it."""
    if _waits_for(batch, event):
        return onward(batch, after, event.at, *lines)
    return changed(batch, after), Reply(lines=lines)


def _waits_for(batch: Batch, event: Reading) -> bool:
    return isinstance(batch.stage, Measure) and batch.stage.reading == event.what


def _take_brix(batch: Batch, event: Reading) -> Step:
    """A refractometer reading sharpens the reckoning, whether or not a stage waits for it."""
    after = batch.with_reading(event)
    lines = mended(after) or _sugar_by_brix(batch, after)
    return _counted(batch, after, event, read_back(event), *lines)


def _sugar_by_brix(batch: Batch, after: Batch) -> tuple[Line, ...]:
    hint = Line(id="refractometer", rank="detail")
    sugar = main_sugar(after) if after.start else None
    if not sugar or not sugar.likely or batch.addition("main_sugar") is not None:
        return (hint,)
    facts = {"sugar": quantity(sugar, "g")}
    return (Line(id="sugar_by_brix", rank="answer", facts=facts), hint)


_JUDGED = ("temperature", "ph", "brix")
_HANDLERS: dict[str, Handler] = {
    "fruit": _measure,
    "juice": _measure,
    "temperature": take_temperature,
    "ph": take_ph,
    "brix": _take_brix,
    **dict.fromkeys((key for key, row in STUFF.items() if row.is_put_in), take_ingredient),
    "yield": take_yield,
    "bottles": take_yield,
}
