"""Preservatives that go in: every dose counts towards one total, held against its ceilings."""

from collections.abc import Callable
from dataclasses import replace

from assistant.base.units import dimension
from assistant.calc.preserve import Slip, benzoate_slip, sorbate_slip
from assistant.cook.batch import Added, Batch
from assistant.cook.changes import Step, changed, stay
from assistant.cook.judging import read_back
from assistant.cook.kinds import Option
from assistant.cook.plausible import asked_twice
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.cook.spooned import amount_in, spoon_caution
from assistant.cook.stages import announce
from assistant.cook.stock import syrup
from assistant.cook.totals import (
    density,
    least_volume,
    over_ceiling,
    over_line,
    stuff_total,
    warned_of,
)
from assistant.facts.events import Reading
from assistant.facts.stuff import stuff_words

PutIn = Callable[[Batch, Added, Reading, tuple[Line, ...]], Step]
_SLIPS: dict[str, Callable[[float], Slip | None]] = {
    "sorbate": sorbate_slip,
    "benzoate": benzoate_slip,
}
_DECIMAL = ("tenth", "hundredth", "tenfold", "hundredfold")


def take_preservative(batch: Batch, event: Reading, put_in: PutIn) -> Step:
    """A dose or a weight of a preservative, judged with all that went in before.

    A dose in grams a litre is what is to be weighed: past a ceiling it is refused. A weight is what
    went in: it counts, and past a ceiling the batch stops. Of a spoon the heavier end counts.
    """
    litres = _litres(batch)
    if litres is None:
        return stay(batch, Line(id="not_in_recipe", rank="answer"))
    grams = _grams(batch, event, litres)
    if not 0 < grams / litres <= 1000:
        return stay(batch, Line(id="sorbate_no_dose", rank="question"))
    slip = _slipped(batch, event, (grams + stuff_total(batch, event.what)) / litres)
    if slip is not None:
        return slip
    if _is_dose(event):
        over = over_ceiling(batch, event.what, grams)
        if over is not None:
            return stay(batch, over_line(over))
    added = Added(event.what, grams, "g", event.at, measured=True)
    lines = (*spoon_caution(event), *_cautions(batch, event, grams, litres))
    chosen = batch.with_choice(event.what, True)
    if _is_asked(batch, event.what) and stuff_total(batch, event.what) == 0:
        return _dosed_when_asked(batch, chosen, added, event, lines)
    return put_in(chosen, added, event, lines)


def _litres(batch: Batch) -> float | None:
    volume = least_volume(batch)
    return volume / 1000 if volume and batch.start is not None else None


def _is_dose(event: Reading) -> bool:
    return dimension(event.unit) in ("dose", "share")


def _grams(batch: Batch, event: Reading, litres: float) -> float:
    """What it weighs: per kilo, per cent and parts per million are shares of the syrup's mass."""
    if dimension(event.unit) == "dose":
        return event.base * litres
    if dimension(event.unit) == "share":
        stock = syrup(batch)
        return event.base * litres * (density(stock) if stock else 1.0)
    return amount_in(event, "g").high


def _slipped(batch: Batch, event: Reading, dose: float) -> Step | None:
    """A slipped decimal is asked about; said a second time it counts."""
    judge = _SLIPS.get(event.what)
    slip = judge(dose) if judge else None
    if slip is None or slip.kind not in _DECIMAL or asked_twice(batch, event):
        return None
    said = Quantity(value=dose, unit="g/l", exact=event.unit == "g/l")
    line = Line(id=f"sorbate_{slip.kind}", rank="caution", facts={"said": said})
    asked = replace(batch, asked_again=(event.what, event.base))
    return asked, Reply(lines=(line, *announce(batch, event.at)), stopped=batch.stopped)


def _is_asked(batch: Batch, stuff: str) -> bool:
    return isinstance(batch.stage, Option) and batch.stage.option == stuff


def _dosed_when_asked(
    batch: Batch, chosen: Batch, added: Added, event: Reading, lines: tuple[Line, ...]
) -> Step:
    """A dose in place of a yes: it is weighed once, here, and not asked for again."""
    grams = Quantity(value=added.amount, unit="g")
    weigh = Line(id="sorbate_weigh", rank="do", facts={"grams": grams})
    after = chosen.with_added(added)
    return changed(batch, after), Reply(lines=(read_back(event), *lines, weigh))


def _cautions(batch: Batch, event: Reading, grams: float, litres: float) -> tuple[Line, ...]:
    lines: list[Line] = []
    if stuff_total(batch, event.what):
        total = Quantity(value=stuff_total(batch, event.what) + grams, unit="g")
        facts: dict[str, Fact] = {"total": total, "stuff": stuff_words(event.what)}
        lines.append(Line(id="dosed_in_all", rank="caution", facts=facts))
    over = warned_of(batch, event.what, grams)
    if over is not None and over_ceiling(batch, event.what, grams) is None:
        line = over_line(over)
        lines.append(line.model_copy(update={"rank": "caution"}))
    elif event.what == "sorbate":
        slip = sorbate_slip((grams + stuff_total(batch, "sorbate")) / litres)
        if slip is not None and slip.kind == "weak":
            lines.append(Line(id="sorbate_weak", rank="caution"))
    if event.what == "benzoate" and _has_vitamin_c(batch):
        lines.append(Line(id="benzoate_benzene", rank="caution"))
    if event.what == "sulphite":
        lines.append(Line(id="sulphite_allergen", rank="caution"))
    return tuple(lines)


def _has_vitamin_c(batch: Batch) -> bool:
    """Fruit has some, and what was put in has much."""
    return batch.recipe.base != "water" or batch.addition("ascorbic_acid") is not None
