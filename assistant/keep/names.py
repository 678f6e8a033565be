"""Names of batches: the day, a running number, and a part that no other kitchen hits upon.

The name is the lot on the label, so that it must never be given twice, not even by two kitchens
that know nothing of each other.
"""

import re
import secrets
from collections.abc import Iterable
from datetime import date

from assistant.facts.events import Begin

LETTERS = "23456789bcdfghjkmnpqrstvwxz"
"""No vowels, which make words, and nothing that looks like something else on a wet label."""
_LENGTH = 5
"""Of 14 million parts, two kitchens take the same for one number of one day."""
_FORKED = re.compile(rf"(\d{{4}}-\d\d-\d\d-\d+(?:-[{LETTERS}]{{{_LENGTH}}})?)-(?:[b-z]|\d+)")


def next_batch_id(existing: Iterable[str], on: date, part: str | None = None) -> str:
    """The id of the next batch begun on that day; a number once used is not used again.

    part : what sets it apart from another kitchen's; drawn by chance when not given

    >>> next_batch_id(["2026-11-25-1", "2026-11-24-7"], date(2026, 11, 25), "k7m4p")
    '2026-11-25-2-k7m4p'
    """
    day = re.compile(rf"{on.isoformat()}-(\d+)(?:-[{LETTERS}]{{{_LENGTH}}})?")
    used = [int(found[1]) for name in existing if (found := day.fullmatch(name))]
    return f"{on.isoformat()}-{max(used, default=0) + 1}-{part or chance_part()}"


def chance_part() -> str:
    """Five letters by chance."""
    return "".join(secrets.choice(LETTERS) for _ in range(_LENGTH))


def renamed(first: Begin, name: str) -> Begin:
    """A batch's beginning under another name; the lot that its labels may carry stays known.

    >>> from datetime import UTC, datetime
    >>> first = Begin(at=datetime(2026, 7, 4, tzinfo=UTC), batch="a", recipe={})
    >>> renamed(first, "a-b").lots
    ('a',)
    """
    if name == first.batch:
        return first
    lots = tuple(lot for lot in dict.fromkeys((*first.lots, first.batch)) if lot != name)
    return first.model_copy(update={"batch": name, "lots": lots})


def lot_before(name: str) -> str:
    """The lot of a batch to which an earlier Panside gave a second name; "" for a first name.

    >>> lot_before("2026-11-25-2-b"), lot_before("2026-11-25-2-k7m4p")
    ('2026-11-25-2', '')
    """
    found = _FORKED.fullmatch(name)
    return found[1] if found else ""
