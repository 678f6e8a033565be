"""A label as lines of text, without paper: what would stand on it."""

from assistant.base.errors import PansideError
from assistant.cook import Batch
from assistant.label.content import label_text


def preview(batch: Batch) -> list[str]:
    """The label of the batch on the day of its bottling; why there is none, where there is none."""
    try:
        text = label_text(
            batch, batch.bottled.at.date() if batch.bottled else batch.begun_at.date()
        )
    except PansideError as error:
        return [f"none: {error}"]
    days = (text.keep_by - text.made).days
    rows = (
        f"{text.name}, {text.volume}",
        f"{text.dated.capitalize()}: {days} days after bottling",
        text.strength,
        f"Ingredients: {', '.join(text.ingredients)}.",
        f"Allergens: {text.allergens}",
        f"Storage: {text.storage}",
        f"To drink: {text.serving}" if text.serving else "",
    )
    return [row for row in rows if row]
