"""Fruit as it was weighed: several kinds, frozen, with stones, counted, or some more of it."""

from collections.abc import Callable
from dataclasses import replace

from assistant.base.units import dimension, to_base
from assistant.calc.fruits import fruit as fruit_figures
from assistant.calc.spread import Spread, carry
from assistant.cook.basket import called, joined, named, net_g
from assistant.cook.batch import Batch
from assistant.cook.changes import Step, changed, stay
from assistant.cook.kinds import Add, Measure, Rest
from assistant.cook.kinds.heat import Heat
from assistant.cook.plan_told import plan_lines
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.cook.stages import announce
from assistant.facts.events import Reading, Weighed

Measured = Callable[[Batch, Reading], Step]
_OPEN = (Measure, Add, Rest, Heat)
"""Stages at which fruit may still be put to the rest: before anything was held, strained or
cooled."""


def take_weighed(batch: Batch, event: Reading, measured: Measured) -> Step:
    """A weight of fruit that says more than a number.

    measured : takes a plain weight, where the stage waits for one
    """
    if batch.recipe.base != event.what:
        return stay(batch, *_for_juice(batch, event), *announce(batch, event.at))
    refused = _low_acid(batch, event)
    if refused:
        facts: dict[str, Fact] = {"fruit": called(refused)}
        line = Line(id="fruit_low_acid", rank="limit", facts=facts)
        lasting = replace(batch.lasting, refused=refused)
        barred = batch if batch.start is not None else replace(batch, lasting=lasting)
        return barred, Reply(lines=(line,), stopped=batch.stopped)
    unknown = _unknown(event)
    if unknown is not None:
        return stay(batch, unknown)
    if event.more and batch.start is not None:
        return _more(batch, event)
    return _begun(batch, event, measured)


def summed(parts: tuple[Weighed, ...], event: Reading) -> Reading:
    """The event as the weight of all, without stones; what was said stays beside it.

    Of juices that were all told by volume, their volume.
    """
    if all(dimension(one.unit) == "volume" for one in parts):
        ml = sum(to_base(one.value, one.unit) for one in parts)
        much = {"value": ml / 1000, "unit": "l"} if ml >= 1000 else {"value": ml, "unit": "ml"}
        update = {**much, "parts": parts, "more": False}
        return event.model_copy(update=update)
    nets = [net for one in parts if (net := net_g(one)) is not None]
    total = sum(net.likely for net in nets)
    value, unit = (total / 1000, "kg") if total >= 1000 else (total, "g")
    return event.model_copy(update={"value": value, "unit": unit, "parts": parts, "more": False})


def _begun(batch: Batch, event: Reading, measured: Measured) -> Step:
    lasting = replace(batch.lasting, refused=None)
    of_it = replace(batch, fruit=named(event.parts), lasting=lasting)
    weight = summed(event.parts, event)
    after, reply = measured(of_it, weight)
    if after is of_it:
        return batch, reply
    said = (line for line in reply.lines if line.id != "read_back")
    lines = (*_told(event), *together(weight), *said, *_remarks(after, event))
    return replace(after, before=batch), reply.model_copy(update={"lines": lines})


def _more(batch: Batch, event: Reading) -> Step:
    """Some more goes to what was weighed; the sugar makes up for it by mass balance."""
    start = batch.start
    if start is None or batch.fruit is None:
        return stay(batch, Line(id="fruit_name_first", rank="question"))
    if not _is_open(batch):
        return stay(batch, Line(id="fruit_too_late", rank="answer"), *announce(batch, event.at))
    had = start.reading.parts if named_as(batch) else ()
    first = Weighed(fruit=batch.fruit, value=start.reading.value, unit=start.reading.unit)
    parts = (*(had or (first,)), *event.parts)
    weight = summed(parts, start.reading)
    taken = tuple(replace(t, reading=weight) if t is start else t for t in batch.taken)
    after = replace(batch.stirred(), taken=taken, fruit=named(parts))
    lines = (*_told(event), *together(weight), *_remarks(after, event))
    return changed(batch, after), Reply(
        lines=(*lines, *announce(after, event.at), *plan_lines(after))
    )


def named_as(batch: Batch) -> bool:
    """Whether the parts that were weighed are still what the batch is of."""
    start = batch.start
    return bool(start and start.reading.parts and named(start.reading.parts) == batch.fruit)


def _is_open(batch: Batch) -> bool:
    gone = batch.stages[: batch.stage_index + 1]
    juiced = any(isinstance(s, Measure) and s.reading == "juice" for s in gone)
    return all(isinstance(s, _OPEN) for s in gone) and not juiced


def _low_acid(batch: Batch, event: Reading) -> str | None:
    """A fruit among it that is low in acid, and that the recipe is not for."""
    for one in event.parts:
        figures = fruit_figures(one.fruit)
        low = figures is not None and figures.acidity_class == "low-acid"
        if low and one.fruit not in batch.recipe.fruits:
            return one.fruit
    return None


def _unknown(event: Reading) -> Line | None:
    """What can't be reckoned, since nobody has a figure for it."""
    for one in event.parts:
        if net_g(one) is None:
            line = "stones_unknown" if one.stones else "piece_unknown"
            return Line(id=line, rank="question", facts={"fruit": called(one.fruit)})
    return None


def _told(event: Reading) -> tuple[Line, ...]:
    """Each as it was said."""
    return tuple(_said(one, event.what == "juice") for one in event.parts)


def _said(one: Weighed, juice: bool) -> Line:
    said = Quantity(value=one.value, unit=one.unit, exact=True)
    facts: dict[str, Fact] = {"said": said, "stuff": called(one.fruit)}
    if one.each:
        facts["count"] = round(one.value)
        return Line(id=f"fruit_counted_{one.each}", rank="read_back", facts=facts)
    line = "read_back_frozen" if one.frozen else "read_back_juice" if juice else "read_back_of"
    return Line(id=line, rank="read_back", facts=facts)


def together(weight: Reading) -> tuple[Line, ...]:
    """All of it in one number, where it is not what was said."""
    lines, parts = [], weight.parts
    whole = [one for one in parts if one.stones]
    if whole:
        net = _sum(whole)
        facts: dict[str, Fact] = {
            "net": _spread(net),
            "fruit": joined([called(o.fruit) for o in whole]),
        }
        lines.append(Line(id="fruit_without_stones", rank="answer", facts=facts))
    if len(parts) > 1:
        total = Quantity(value=weight.value, unit=weight.unit)
        lines.append(Line(id="fruit_together", rank="read_back", facts={"total": total}))
    return tuple(lines)


def _sum(parts: list[Weighed]) -> Spread:
    nets = [net for one in parts if (net := net_g(one)) is not None]
    return Spread(sum(n.low for n in nets), sum(n.likely for n in nets), sum(n.high for n in nets))


def _spread(net: Spread) -> Quantity:
    return Quantity(value=net.likely, unit="g", low=net.low, high=net.high)


def _remarks(batch: Batch, event: Reading) -> tuple[Line, ...]:
    """What is to be minded with such fruit."""
    lines = []
    strange = [one.fruit for one in event.parts if one.fruit not in batch.recipe.fruits]
    if strange:
        named_so: dict[str, Fact] = {"fruit": joined([called(each) for each in strange])}
        lines.append(Line(id="fruit_not_made_for", rank="caution", facts=named_so))
    if any(one.frozen for one in event.parts):
        lines.append(Line(id="fruit_frozen", rank="do"))
    if any(one.stones for one in event.parts):
        lines.append(Line(id="fruit_stones", rank="caution"))
    return tuple(lines)


def counted(batch: Batch, event: Reading) -> tuple[Line, ...]:
    """The question before a count stands for a weight; () where all was weighed."""
    pieces = [one for one in event.parts if one.each]
    if not pieces or batch.recipe.base != "fruit" or _unknown(event) is not None:
        return ()
    facts: dict[str, Fact] = {"weight": _spread(_sum(list(event.parts)))}
    return (Line(id="ask_fruit_counted", rank="question", facts=facts),)


def _for_juice(batch: Batch, event: Reading) -> tuple[Line, ...]:
    """What whole fruit comes to in a recipe that starts from its juice, where that is known."""
    if batch.recipe.base != "juice":
        return (Line(id="not_in_recipe", rank="answer"),)
    found = [_pressed(one) for one in event.parts]
    known = [one for one in found if one is not None]
    if len(known) < len(found):
        return (Line(id="fruit_for_juice", rank="answer"),)
    low, likely, high = (sum(ends) for ends in zip(*map(_ends, known), strict=True))
    juice = Quantity(value=likely, unit="ml", low=low, high=high)
    return (Line(id="fruit_gives_juice", rank="answer", facts={"juice": juice}),)


def _pressed(one: Weighed) -> Spread | None:
    """The juice of whole fruit; a gram of it is taken as a millilitre, a little too much."""
    net, figures = net_g(one.model_copy(update={"stones": False})), fruit_figures(one.fruit)
    if net is None or figures is None or figures.juice_g is None:
        return None
    return carry(lambda grams, share: grams * share, net, figures.juice_g)


def _ends(spread: Spread) -> tuple[float, float, float]:
    return spread.low, spread.likely, spread.high


def with_part(wrong: Reading, of: str, value: float, unit: str | None) -> Reading | None:
    """A weighed mixture with one of its fruits put right; None where it is not clear which.

    of : key of the fruit, "" where there is only one
    """
    fits = [n for n, one in enumerate(wrong.parts) if not of or one.fruit == of]
    if len(fits) != 1:
        return None
    was = wrong.parts[fits[0]]
    if was.each and unit not in (None, "count"):
        was = was.model_copy(update={"each": ""})
    right = was.model_copy(update={"value": value, "unit": unit or was.unit})
    parts = tuple(right if n == fits[0] else one for n, one in enumerate(wrong.parts))
    return wrong.model_copy(update={"parts": parts})
