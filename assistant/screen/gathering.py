"""The batches that somebody works on, found in the journal after a start of the kitchen page."""

from datetime import datetime, timedelta

from assistant.cook import fold
from assistant.keep import Journal
from assistant.past.lookback import LookBack
from assistant.screen.view import running

LATELY = 12
"""Among so many of the latest batches those at work are looked for."""
FORGOTTEN = timedelta(hours=1)
"""What has been due for longer than this rings no more."""


def at_work(journal: Journal, now: datetime) -> tuple[str, ...]:
    """Unfinished batches with something that runs, or was due lately; not those of another kitchen.

    Others wait until somebody looks at them: a batch of last month must not be asked about.
    """
    briefs = LookBack(journal).batches(LATELY)
    names = [each.batch for each in reversed(briefs) if each.ended is None and not each.wrong]
    return tuple(name for name in names if _runs(journal, name, now))


def _runs(journal: Journal, batch_id: str, now: datetime) -> bool:
    lease = journal.lease(batch_id)
    if lease is not None and not lease.mine and lease.counts(now):
        return False
    batch, _ = fold(journal.events(batch_id))
    return any(each.ends > now - FORGOTTEN for each in running(batch, now))
