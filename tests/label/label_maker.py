"""Batches and texts to make labels of: the tea hut's, and what else may come."""

from datetime import UTC, date, datetime
from functools import cache

from batch_maker import Maker

from assistant.cook import Batch
from assistant.label.content import LabelText, label_text

TODAY = date(2026, 7, 12)
AT = datetime(2026, 7, 11, 15, 0, tzinfo=UTC)


@cache
def bottled(*options: bool, count: int = 9, size_ml: float | None = 500) -> Batch:
    """The plain way to the last bottle; options are ascorbic acid, glycerin and sorbate."""
    maker = Maker().up_to("ask_ascorbic")
    for wanted in options or (False, False, False):
        maker.does("yes" if wanted else "no")
        if wanted:
            maker.done()
    maker.reads("ph", 3.4, "pH")
    maker.does("bottle", count=count, size_ml=size_ml)
    if maker.batch.held:
        maker.does("yes")
    return maker.batch


def a_text(**changes: object) -> LabelText:
    """The short label of the tea hut's blackcurrant syrup, with changes."""
    lot = {"lot": "2026-07-11-1", "code": "panside:batch:2026-07-11-1"}
    return changed(label_text(bottled(), TODAY), **{**lot, **changes})


def changed(text: LabelText, **changes: object) -> LabelText:
    return LabelText(**{**vars(text), **changes})  # type: ignore[arg-type]
