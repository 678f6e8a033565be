"""The larder, the list of batches and one batch's report, as the further pages show them."""

from datetime import datetime
from typing import Any

from assistant.cook import Batch, fold
from assistant.cookbook import load_recipe, recipe_names
from assistant.errors import BadRecipe, WrongUse
from assistant.keep import Journal
from assistant.larder import larder, larder_lines
from assistant.report import CAUTION, batch_lines
from assistant.say import by_eye
from assistant.screen.curve import curve, hold_so_far
from assistant.screen.view import title


def larder_page(journal: Journal, now: datetime) -> dict[str, Any]:
    """What is in store today: sections of lines, what to throw away first."""
    found = larder([journal.events(row.id) for row in journal.batches()], now.date())
    lines = [{"rank": line.rank, "text": by_eye(line)} for line in larder_lines(found)]
    return {"on": now.date().isoformat(), "now": now.isoformat(), "lines": lines}


def batches_page(journal: Journal, now: datetime) -> dict[str, Any]:
    """Every batch, the latest first, and the recipes one can begin."""
    rows = sorted(journal.batches(), key=lambda row: row.last_at, reverse=True)
    found = []
    for row in rows:
        try:
            batch, _ = fold(journal.events(row.id))
        except BadRecipe as error:
            found.append({"batch": row.id, "title": str(error), "standing": "", "open": False})
            continue
        found.append(_brief(batch))
    recipes = [{"name": name, "title": load_recipe(name).title} for name in recipe_names()]
    return {"now": now.isoformat(), "batches": found, "recipes": recipes}


def _brief(batch: Batch) -> dict[str, Any]:
    name = f"{batch.recipe.title}, {batch.fruit}" if batch.fruit else batch.recipe.title
    return {
        "batch": batch.id,
        "title": name,
        "begun": batch.begun_at.isoformat(),
        "standing": _standing(batch),
        "open": batch.stage is not None,
    }


def _standing(batch: Batch) -> str:
    if batch.stopped_by:
        return "held by a limit: do not bottle it"
    if batch.stage is not None:
        return f"at {title(batch.stage)}"
    return batch.ended or "done"


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
        "lines": lines,
        "caution": CAUTION,
        "curve": course.model_dump(mode="json") if course else None,
        "hold": hold.model_dump(mode="json") if hold else None,
    }


def latest_open(journal: Journal) -> str | None:
    """The unfinished batch that was worked on last."""
    for row in sorted(journal.batches(), key=lambda row: row.last_at, reverse=True):
        try:
            batch, _ = fold(journal.events(row.id))
        except BadRecipe:
            continue
        if batch.stage is not None:
            return row.id
    return None
