"""Putting right what was told a while ago: fruit, juice, what went in, bottles.

The number is changed where it stands, at its own time, and what follows from it is worked out anew
and said. It ends where something hangs on it that nobody takes back: a filled and dated bottle.
"""

from dataclasses import replace

from assistant.base.units import dimension
from assistant.cook.additions import added_as
from assistant.cook.amounts import quantity
from assistant.cook.basket import is_mixed, named
from assistant.cook.batch import Added, Batch, Bottled, Taken
from assistant.cook.changes import Step, changed, stay
from assistant.cook.expected import expected_amount, expected_juice, off_plan_line
from assistant.cook.filling import odd_filling
from assistant.cook.judging import read_back
from assistant.cook.kinds import Measure
from assistant.cook.own import words_of
from assistant.cook.reply import Fact, Line, Reply
from assistant.cook.rewarming import rewarmed
from assistant.cook.sorts import count_line, which
from assistant.cook.spooned import can_be_weighed
from assistant.cook.stock import main_sugar, syrup
from assistant.cook.weighing import named_as, summed, together, with_part
from assistant.facts.events import Correct, Reading, What
from assistant.facts.stuff import OWN, PRESERVATIVES, RANGES, STUFF, UNITS, read_as
from assistant.facts.vessels import Vessel, lot

MEASURED: tuple[What, ...] = ("fruit", "juice", "water", "yield")


def put_right(batch: Batch, event: Correct) -> Step:
    """The number told earlier, changed where it stands; or why it can't be."""
    if event.what == "bottles" or (event.what is None and event.unit in (None, "count")):
        return _recounted(batch, event)
    if event.what == "temperature" or (event.what is None and event.unit in UNITS["temperature"]):
        return rewarmed(batch, event)
    if event.what is None and batch.last_reading is None:
        return stay(batch, Line(id="nothing_to_correct", rank="answer"))
    if event.what is None:
        return stay(batch, Line(id="correction_elsewhere", rank="question"))
    taken = _told(batch, event.what)
    added = None if taken else _put_in(batch, event.what, event.of)
    if taken is None and added is None:
        return stay(batch, Line(id="correction_elsewhere", rank="question"))
    if batch.bottled is not None:
        return stay(batch, Line(id="correction_too_late", rank="answer"))
    right = meant(batch, event)
    if right is None and taken is batch.start and is_mixed(batch):
        return stay(batch, Line(id="correction_of_which", rank="question"))
    if right is None or not _possible(batch, right, taken) or not _weighs(batch, right):
        return stay(batch, Line(id="correction_elsewhere", rank="question"))
    after = _replaced(batch, right, taken, added)
    said = together(right) if right.parts else (read_back(right),)
    return changed(batch, after), Reply(lines=(*said, *_what_changes(batch, after)))


def meant(batch: Batch, event: Correct) -> Reading | None:
    """What a correction of something told earlier says, as a reading; None where nothing fits."""
    if event.what is None:
        return None
    taken, added = _told(batch, event.what), _put_in(batch, event.what, event.of)
    if taken is not None and named_as(batch) and taken is batch.start:
        right = with_part(taken.reading, event.of, event.value, event.unit)
        return None if right is None else summed(right.parts, right)
    had = taken.reading.unit if taken else added.unit if added else None
    unit = event.unit or had
    if unit is None:
        return None
    kinds = {dimension(u) for u in STUFF[event.what].units} | STUFF[event.what].takes
    if dimension(unit) not in kinds:
        return None
    at = taken.at if taken else added.at if added else event.at
    of = added.name if added and event.what == OWN else ""
    return Reading(at=at, heard=event.heard, what=event.what, value=event.value, unit=unit, of=of)


def doubted(batch: Batch, event: Correct) -> tuple[Line, ...]:
    """The question that a correction raises: far off the plan, or bottles that can't be."""
    if event.what == "bottles" or (event.what is None and event.unit in (None, "count")):
        filled = recounted(batch, event)
        return odd_filling(batch, filled.sorts) if isinstance(filled, Bottled) else ()
    right = meant(batch, event)
    if right is None or not _weighs(batch, right):
        return ()
    if right.what == "juice":
        expected, value = expected_juice(batch, right.dimension), right.base
    else:
        added = added_as(batch, right) if STUFF[right.what].is_put_in else None
        name = _put_in(batch, right.what, right.of)
        expected = expected_amount(batch, name.name) if name else None
        value = added.amount if added else right.base
    if expected is None or not expected.far_off(value):
        return ()
    return (off_plan_line(right, expected, words_of(batch, right)),)


def _told(batch: Batch, what: str) -> Taken | None:
    """What is measured and weighed; what a recipe starts from is its first measurement."""
    if what not in MEASURED:
        return None
    return batch.start if what == batch.recipe.base else batch.last(what)


def _put_in(batch: Batch, what: str, of: str = "") -> Added | None:
    """The latest that went in of it; preservatives are judged by their dose, when they go in."""
    if what in PRESERVATIVES:
        return None
    found = (a for a in reversed(batch.added) if read_as(a.name) == what)
    return next((a for a in found if not of or a.name == of), None)


def _weighs(batch: Batch, right: Reading) -> bool:
    own = batch.recipe.ingredients.get(right.of)
    return own is None or can_be_weighed(right, own)


def _possible(batch: Batch, right: Reading, taken: Taken | None) -> bool:
    low, high = RANGES[right.what]
    stage = next((s for s in batch.recipe.stages if taken and s.id == taken.stage), None)
    if isinstance(stage, Measure):
        low, high = max(low, stage.low), min(high, stage.high)
    return low <= right.base <= high


def _replaced(batch: Batch, right: Reading, taken: Taken | None, added: Added | None) -> Batch:
    if taken is not None:
        fixed = replace(taken, reading=right)
        if right.parts:
            batch = replace(batch, fruit=named(right.parts))
        return replace(batch, taken=tuple(fixed if t is taken else t for t in batch.taken))
    found = added_as(batch, right)
    if added is None:
        return batch
    put_in = replace(added, amount=found.amount, measured=True)
    return replace(batch, added=tuple(put_in if a is added else a for a in batch.added))


def _what_changes(before: Batch, after: Batch) -> tuple[Line, ...]:
    """The sugar that is to come now; once it is in, the syrup."""
    sugar, out = main_sugar(after), syrup(after)
    if sugar is None or out is None:
        return ()
    if after.addition("main_sugar") is None and sugar.likely and main_sugar(before) != sugar:
        facts: dict[str, Fact] = {"sugar": quantity(sugar, "g").likely()}
        return (Line(id="corrected_sugar", rank="answer", facts=facts),)
    if syrup(before) == out:
        return (Line(id="corrected_nothing", rank="answer"),)
    facts = {"syrup": quantity(out.volume_ml, "ml"), "brix": quantity(out.brix, "Brix")}
    return (Line(id="corrected_syrup", rank="answer", facts=facts),)


def _recounted(batch: Batch, event: Correct) -> Step:
    """ "No, seven": as many as went away already there must have been."""
    right = recounted(batch, event)
    if isinstance(right, Line):
        return stay(batch, right)
    after = replace(batch, bottled=right)
    if len(right.sorts) > 1:
        left = Line(id="left_in_all", rank="answer", facts={"left": after.in_store})
        return changed(batch, after), Reply(lines=(*map(count_line, right.sorts), left))
    told: dict[str, Fact] = {"count": right.count, "left": after.in_store}
    line = Line(id="bottles_recounted", rank="answer", facts=told)
    return changed(batch, after), Reply(lines=(line,))


def recounted(batch: Batch, event: Correct) -> Bottled | Line:
    """The bottles with the count of one sort put right; or a line that says why it can't be."""
    filled, count = batch.bottled, round(event.value)
    if filled is None:
        return Line(id="nothing_to_correct", rank="answer")
    if count != event.value or count < 1:
        return Line(id="bottles_whole", rank="question")
    vessel = which(batch, event.vessel)
    if isinstance(vessel, Line):
        return vessel
    gone = _gone(batch, vessel)
    if count < gone:
        facts: dict[str, Fact] = {"count": count, "gone": gone}
        return Line(id="bottles_gone_already", rank="answer", facts=facts)
    if vessel is None:
        return _counted_whole(filled, count)
    sorts = tuple(lot(count, vessel) if one.vessel == vessel else one for one in filled.sorts)
    return replace(filled, count=sum(one.count for one in sorts), lots=sorts)


def _counted_whole(filled: Bottled, count: int) -> Bottled:
    """The only sort counted anew; of several, by the first rules, none is told apart any more."""
    only = filled.sorts[0].vessel if len(filled.sorts) == 1 and filled.lots else None
    return replace(filled, count=count, lots=(lot(count, only),) if only else ())


def _gone(batch: Batch, vessel: Vessel | None) -> int:
    """Bottles of a sort that were opened, moved or went already; of all for None."""
    stored = batch.stored
    return stored.gone_of(vessel) + stored.opened_of(vessel) + stored.apart_of(vessel)
