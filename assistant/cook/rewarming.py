"""A temperature of a while ago put right: it may take from a hold, and adds nothing to one."""

from dataclasses import replace

from assistant.cook.batch import Batch, Taken
from assistant.cook.changes import Step, changed, stay
from assistant.cook.holding import held
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.facts.events import Correct, Reading
from assistant.facts.stuff import RANGES

_HEATED = ("heat", "hold")


def rewarmed(batch: Batch, event: Correct) -> Step:
    """The temperature that was meant, changed where it stands, also when the bottles are filled.

    Nobody can hold a pan any more once its stage is over: a number that would complete a hold
    afterwards is not taken.
    """
    meant = _meant(batch, event)
    if meant is None:
        return stay(batch, Line(id="correction_elsewhere", rank="question"))
    wrong, right = meant
    fixed = replace(wrong, reading=right)
    after = replace(batch, taken=tuple(fixed if t is wrong else t for t in batch.taken))
    facts: dict[str, Fact] = {"said": _as_said(right), "had": _as_said(wrong.reading)}
    if held(after).complete and not held(batch).complete:
        return stay(batch, Line(id="hold_not_afterwards", rank="answer", facts=facts))
    lost = held(batch).complete and not held(after).complete
    line = Line(id="hold_taken_back", rank="caution") if lost else None
    told = Line(id="temperature_put_right", rank="answer", facts=facts)
    return changed(batch, after), Reply(lines=(told, line) if line else (told,))


def _meant(batch: Batch, event: Correct) -> tuple[Taken, Reading] | None:
    """The reading nearest to the right number, one of the hold before another; None without any."""
    found: list[tuple[float, bool, int, Taken, Reading]] = []
    kinds = {stage.id: stage.kind for stage in batch.recipe.stages}
    for place, taken in enumerate(batch.taken):
        if taken.what != "temperature":
            continue
        update = {"value": event.value, "unit": event.unit or taken.reading.unit}
        right = taken.reading.model_copy(update={**update, "heard": event.heard})
        cool = kinds.get(taken.stage) not in _HEATED
        found.append((abs(right.base - taken.base), cool, -place, taken, right))
    if not found:
        return None
    *_, wrong, right = min(found, key=lambda one: one[:3])
    low, high = RANGES["temperature"]
    return (wrong, right) if low <= right.base <= high else None


def _as_said(reading: Reading) -> Quantity:
    return Quantity(value=reading.value, unit=reading.unit, exact=True)
