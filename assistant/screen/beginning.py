"""Batches begun with a tap: of a recipe, or the same as an old one. A wish counts once."""

from datetime import datetime

from assistant.base.errors import WrongUse
from assistant.cook import fold
from assistant.keep import Journal, next_batch_id
from assistant.past.lookback import LookBack
from assistant.planning import again, hints
from assistant.report.repeated import hint_words

_LATELY = 12
"""Among so many of the latest batches one is looked for that the same wish has begun."""


def begun_by(journal: Journal, mark: str) -> str | None:
    """The batch that a wish has begun before, when its answer got lost; None for a fresh wish."""
    lately = (brief.batch for brief in LookBack(journal).batches(_LATELY))
    return next((batch for batch in lately if journal.has_mark(batch, mark)), None)


def begin_again(journal: Journal, old_id: str, at: datetime, mark: str) -> str:
    """A new batch by an old one's recipe and fruit, with what was learnt as notes; its id.

    WrongUse where there is no such batch.
    """
    events = journal.events(old_id)
    if not events:
        raise WrongUse("There is no such batch.")
    old, _ = fold(events)
    each = "kilo" if old.recipe.base == "fruit" else "litre"
    learnt = [hint_words(hint, each) for hint in hints(events, None)]
    new_id = next_batch_id(journal.names(at.date().isoformat()), at.date())
    journal.append_all(new_id, again(events, new_id, at, None, learnt), 0, mark)
    return new_id
