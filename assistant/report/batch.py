"""What became of a batch: its state, readings and additions, as facts and as lines to read."""

from collections.abc import Mapping, Sequence
from typing import Any

from assistant.cook import Batch, fold
from assistant.cook.batch import Bottled
from assistant.cook.finished_ph import fresh_ph, is_stale
from assistant.cook.holding import heated, held
from assistant.cook.keep_answers import PLACE_WORDS, SIGN_WORDS
from assistant.cook.keeping import closed_until, keep_by_words, keeping
from assistant.cook.lasting import Disbelieved
from assistant.cook.reply import Quantity
from assistant.cook.shipped import standing
from assistant.cook.sorts import sized, sorts_filled, sorts_in_store
from assistant.cook.stock import alcohol_by_volume, juice, syrup
from assistant.facts.events import AnyEvent, Weighed
from assistant.facts.vessels import Lot
from assistant.planning.differences import differences, yield_ml_per_kilo
from assistant.planning.replay import stays
from assistant.report.costs import cost_lines, cost_record, priced
from assistant.report.course import (
    difference_lines,
    difference_records,
    stay_lines,
    stay_records,
)
from assistant.report.hands import hand_lines, hand_records
from assistant.say.amounts import by_eye

CAUTION = (
    "No promise: your local food code and a licensed adviser come first. When in doubt, discard."
)


Prices = Mapping[str, float]
"""Money for a kilo or a litre by name, for a bottle by the piece."""


def batch_record(events: Sequence[AnyEvent], prices: Prices | None = None) -> dict[str, Any]:
    """A batch as one plain object; with its cost where prices are named."""
    batch, _ = fold(events)
    hold, stock, keep = held(batch), syrup(batch), keeping(batch)
    made = yield_ml_per_kilo(batch)
    cost = {"cost": cost_record(priced(batch, prices))} if prices else {}
    return {
        "batch": batch.id,
        "recipe": batch.recipe.name,
        "recipe_standing": standing(batch.recipe),
        "fruit": batch.fruit,
        "begun": batch.begun_at.isoformat(),
        "stage": batch.stage.id if batch.stage else None,
        "ended": batch.ended,
        "stopped_by": batch.stopped_by,
        "readings": [
            {
                "at": t.at.isoformat(),
                "stage": t.stage,
                **t.reading.meaning(),
                **({"by": t.reading.by.named()} if t.reading.by else {}),
            }
            for t in batch.taken
        ],
        "additions": [
            {
                "name": a.name,
                "amount": round(a.amount, 3),
                "unit": a.unit,
                "at": a.at.isoformat(),
                "measured": a.measured,
            }
            for a in batch.added
        ],
        "hold": {"seconds": hold.seconds, "margin": hold.margin, "complete": hold.complete},
        "heated": heated(batch),
        "finished_ph": ph.base if (ph := fresh_ph(batch)) else None,
        "ph_taken_back": [taken.base for taken in batch.lasting.taken_back],
        "syrup_ml": round(stock.volume_ml.likely) if stock else None,
        "brix": round(stock.brix.likely, 1) if stock else None,
        "bottles": batch.bottled.count if batch.bottled else None,
        "bottle_ml": batch.bottled.size_ml if batch.bottled else None,
        "filled": [lot.model_dump() for lot in sorts_filled(batch)],
        "in_store": batch.in_store if batch.bottled else None,
        "signs": [seen.what for seen in batch.stored.signs],
        "recalled": batch.stored.recalled_for is not None,
        "alcohol_percent": round(100 * alcohol_by_volume(batch), 1),
        "keep_days": None if batch.barred else keep.days,
        "keep_decided_by": None if batch.barred else keep.decided,
        "dated": None if batch.barred else keep.dated,
        "notes": list(batch.notes),
        "skipped": sorted(batch.skipped),
        "yield_ml_per_kilo": None if made is None else round(made),
        "hands": hand_records(events),
        "stages": stay_records(stays(events)),
        "differences": difference_records(differences(events)),
        **cost,
    }


def batch_lines(events: Sequence[AnyEvent], prices: Prices | None = None) -> list[str]:
    """A batch as lines to read; with its cost where prices are named."""
    batch, _ = fold(events)
    return [
        f"Batch {batch.id}: {batch.recipe.title}, {batch.fruit or 'fruit not named'}",
        *_RECIPE_WORDS[standing(batch.recipe)],
        f"Begun {batch.begun_at:%d %B %Y, %H:%M}; {_standing(batch)}",
        "",
        "Readings",
        *_readings(batch),
        "Additions",
        *_additions(batch),
        "Stages",
        *stay_lines(stays(events)),
        "Against the plan",
        *difference_lines(differences(events)),
        "Result",
        *_result(batch),
        *(["Who was at work", *hands] if (hands := hand_lines(events)) else []),
        *(["Cost", *cost_lines(priced(batch, prices))] if prices else []),
        "",
        CAUTION,
    ]


def _keep_by(batch: Batch) -> str:
    """With the year, since a report may be read long after."""
    at = batch.bottled.at if batch.bottled else batch.begun_at
    day = None if batch.barred else closed_until(batch, at)
    return keep_by_words(batch, at) + ("" if day is None else f" {day.year}")


_RECIPE_WORDS = {
    "shipped": (),
    "edited": ("Recipe edited: it is not the one of that name that comes along",),
    "own": ("A recipe of your own: nobody has checked its proportions",),
}


def _standing(batch: Batch) -> str:
    if batch.stopped_by:
        return f"held by a limit ({batch.stopped_by}): do not bottle it"
    if batch.ended:
        return batch.ended
    if batch.spoiling:
        return f"has shown {SIGN_WORDS[batch.stored.signs[-1].what]}: it goes no further"
    return f"at the stage {batch.stage.id!r}" if batch.stage else "done"


def _readings(batch: Batch) -> list[str]:
    rows = []
    for taken in batch.taken:
        said = Quantity(value=taken.reading.value, unit=taken.reading.unit, exact=True)
        who = f"  by {taken.reading.by.words}" if taken.reading.by else ""
        what = f"{taken.stage:10} {taken.what:12} {by_eye(said)}"
        rows.append(f"  {taken.at:%H:%M:%S}  {what}{who}")
        rows += [f"{'':23}{_part(part)}" for part in taken.reading.parts]
    for taken in batch.lasting.taken_back:
        said = Quantity(value=taken.reading.value, unit=taken.reading.unit, exact=True)
        what = f"{taken.stage:10} {taken.what:12} {by_eye(said)}"
        rows.append(f"  {taken.at:%H:%M:%S}  {what}, taken back")
    return rows or ["  none yet"]


def _part(part: Weighed) -> str:
    """One fruit of a mixture, as it was said."""
    said = by_eye(Quantity(value=part.value, unit=part.unit, exact=True))
    counted = {"": said, "piece": said, "punnet": f"{said} punnets"}[part.each]
    marks = (", frozen" if part.frozen else "") + (", weighed with stones" if part.stones else "")
    return f"{part.fruit.replace('-', ' ')} {counted}{marks}"


def _additions(batch: Batch) -> list[str]:
    rows = []
    for added in batch.added:
        amount = by_eye(Quantity(value=added.amount, unit=added.unit))
        how = "as said" if added.measured else "as planned"
        rows.append(
            f"  {added.at:%H:%M:%S}  {batch.recipe.words(added.name):24} {amount:>10}  {how}"
        )
    return rows or ["  none yet"]


def _result(batch: Batch) -> list[str]:
    hold, stock, pulp = held(batch), syrup(batch), juice(batch)
    whole = "complete" if hold.complete else "not complete"
    rows = [f"  hold         {hold.seconds:.0f} s counted, {whole}"]
    if pulp is not None:
        rows.append(
            f"  juice        {_about(pulp.volume_ml.likely, 'ml')}, {pulp.brix.likely:.0f} °Bx"
        )
    if stock is not None:
        rows.append(
            f"  syrup        {_about(stock.volume_ml.likely, 'ml')}, {stock.brix.likely:.0f} °Bx"
        )
    if share := alcohol_by_volume(batch):
        rows.append(f"  alcohol      {100 * share:.1f} % vol, as reckoned")
    if batch.bottled is not None:
        rows.append(f"  bottles      {_filled(batch.bottled)}")
        rows.append(f"  in store     {_left(batch)}, {PLACE_WORDS[batch.stored.place]}")
        rows.extend(_dates(batch))
    rows.extend(f"  spoiled      {SIGN_WORDS[seen.what]}" for seen in batch.stored.signs)
    if batch.skipped:
        rows.append(f"  left out     {', '.join(sorted(batch.skipped))}")
    rows.extend(f"  pH           {_put_right(each)}" for each in batch.lasting.disbelieved)
    if is_stale(batch):
        rows.append("  pH           read before the last things went in: it does not count")
    rows.extend(f"  note         {note}" for note in batch.notes)
    return rows


def _filled(filled: Bottled) -> str:
    """So many of a size, or so many of each sort."""
    if filled.lots:
        return ", ".join(map(_sort, filled.sorts))
    return (
        f"{filled.count} of {_about(filled.size_ml, 'ml')}" if filled.size_ml else f"{filled.count}"
    )


def _left(batch: Batch) -> str:
    several = len(sorts_filled(batch)) > 1
    sorts = ", ".join(map(_sort, sorts_in_store(batch))) if several else ""
    return sorts or f"{batch.in_store}"


def _sort(one: Lot) -> str:
    facts = sized(one.vessel, one.count)
    size = facts["size"]
    told = _about(size.value, "ml") if isinstance(size, Quantity) else size
    return f"{one.count} {facts['vessels']} of {told}"


def _dates(batch: Batch) -> list[str]:
    """The day, which kind of day it is, and what decided it."""
    kept = keeping(batch)
    row = f"  keep by      {_keep_by(batch)}"
    if batch.barred or kept.days is None:
        return [row]
    return [f"{row} ({kept.dated})", f"  because      {kept.reason[0]}"]


def _put_right(each: Disbelieved) -> str:
    """A pH that was read twice because the acid could not explain it."""
    reckoned = "" if each.least is None else f", {_about(each.least, 'g')} reckoned at least"
    return f"{each.was:g}, then {each.then:g} with {_about(each.put_in, 'g')} of acid in{reckoned}"


def _about(value: float, unit: str) -> str:
    return by_eye(Quantity(value=value, unit=unit))  # type: ignore[arg-type]
