"""The larder, the list of batches and one batch's report, as the further pages show them."""

from datetime import datetime
from typing import Any

from assistant.base.errors import WrongUse
from assistant.cook import Batch, Recipe, fold
from assistant.cook.reply import Quantity
from assistant.facts.vessels import UNKNOWN_SIZE, Vessel, words_of
from assistant.keep import Journal
from assistant.larder import larder_lines
from assistant.larder.shelf import Entry
from assistant.past.lookback import Brief, LookBack
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report import CAUTION, batch_lines
from assistant.say import by_eye
from assistant.say.amounts import by_eye as by_eye_amount
from assistant.screen.curve import curve, hold_so_far
from assistant.screen.printing import label_sizes, pictures, sheets
from assistant.screen.view import title

MOST = 200
"""So many batches are listed; `panside batches` lists all."""


def larder_page(journal: Journal, now: datetime) -> dict[str, Any]:
    """What is in store today: sections of lines, what to throw away first."""
    found = LookBack(journal).larder(now.date())
    lines = [{"rank": line.rank, "text": by_eye(line)} for line in larder_lines(found)]
    kept = [row for entry in found.entries if entry.in_store for row in _kept(entry)]
    return {"on": now.date().isoformat(), "now": now.isoformat(), "lines": lines, "kept": kept}


def _kept(entry: Entry) -> list[dict[str, Any]]:
    """A batch with bottles in store, for what may be done with them; a row for each sort."""
    sorts = list(dict.fromkeys(lot.vessel for lot in entry.lots))
    return [_row_of(entry, sort if len(sorts) > 1 else None) for sort in sorts]


def _row_of(entry: Entry, sort: Vessel | None) -> dict[str, Any]:
    """One sort's row; all there is for None."""
    lots = [lot for lot in entry.lots if sort in (None, lot.vessel)]
    there = sum(lot.count for lot in lots)
    closed = sum(lot.count for lot in lots if not lot.opened)
    return {
        "batch": entry.batch,
        "title": _named(entry.title, entry.fruit),
        "sort": _sort_words(sort, there) if sort else "",
        "vessel": sort.model_dump() if sort and sort != Vessel() else None,
        "closed": closed,
        "opened": there - closed,
        "barred": entry.to_throw_away() > 0,
    }


def _sort_words(sort: Vessel, count: int) -> str:
    inside = sort.inside_ml
    size = by_eye_amount(Quantity(value=inside, unit="ml")) if inside else UNKNOWN_SIZE
    return f"{words_of(sort, count)} of {size}"


def batches_page(journal: Journal, now: datetime) -> dict[str, Any]:
    """The batches begun last, the latest first, and the recipes one can begin."""
    found = [_row(journal, brief) for brief in LookBack(journal).batches(MOST)]
    recipes = [_recipe(load_recipe(name)) for name in recipe_names()]
    return {"now": now.isoformat(), "batches": found, "recipes": recipes}


def _recipe(recipe: Recipe) -> dict[str, Any]:
    return {"name": recipe.name, "title": recipe.title, "fruits": list(recipe.fruits)}


def _row(journal: Journal, brief: Brief) -> dict[str, Any]:
    """A batch in a line; one that is under way is looked at whole, for a limit may hold it."""
    called = _named(brief.shelf.title if brief.shelf else brief.recipe, brief.fruit)
    row = {"batch": brief.batch, "title": called, "begun": brief.begun}
    if brief.wrong:
        return {**row, "standing": brief.wrong, "open": False}
    if brief.ended is not None:
        barred = brief.shelf is not None and brief.shelf.barred is not None
        standing = "do not use it: throw it away, untasted" if barred else brief.ended
        return {**row, "standing": standing, "open": False}
    batch, _ = fold(journal.events(brief.batch))
    name = _named(batch.recipe.title, batch.fruit)
    return {**row, "title": name, "standing": _standing(batch), "open": True}


def _named(recipe: str, fruit: str | None) -> str:
    return f"{recipe}, {fruit}" if fruit else recipe


def _standing(batch: Batch) -> str:
    if batch.stopped_by:
        return "held by a limit: do not bottle it"
    return f"at {title(batch.stage)}" if batch.stage else "done"


def batch_page(journal: Journal, batch_id: str, now: datetime) -> dict[str, Any]:
    """One batch's report as lines, with its curve; WrongUse for a batch that is not there."""
    events = journal.events(batch_id)
    if not events:
        raise WrongUse("There is no such batch.")
    batch, _ = fold(events)
    course, hold = curve(batch), hold_so_far(batch)
    lines = [line for line in batch_lines(events) if line != CAUTION]
    return {
        "now": now.isoformat(),
        "batch": batch.id,
        "open": batch.stage is not None,
        "bottled": batch.bottled is not None and batch.barred is None,
        "sheets": sheets(),
        "sizes": label_sizes(batch),
        "pictures": pictures(),
        "lines": lines,
        "caution": CAUTION,
        "curve": course.model_dump(mode="json") if course else None,
        "hold": hold.model_dump(mode="json") if hold else None,
    }


def latest_open(journal: Journal) -> str | None:
    """The unfinished batch that was worked on last."""
    found = LookBack(journal).unfinished()
    return found.batch if found else None
