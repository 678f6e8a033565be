"""Names of batches: the day and a running number."""

import re
from collections.abc import Iterable
from datetime import date


def next_batch_id(existing: Iterable[str], on: date) -> str:
    """The id of the next batch begun on that day; a number once used is not used again.

    >>> next_batch_id(["2026-11-25-1", "2026-11-24-7"], date(2026, 11, 25))
    '2026-11-25-2'
    """
    day = re.compile(rf"{on.isoformat()}-(\d+)")
    used = [int(found[1]) for name in existing if (found := day.fullmatch(name))]
    return f"{on.isoformat()}-{max(used, default=0) + 1}"
