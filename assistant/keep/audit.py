"""Walking every batch's chain: whether anything was changed, dropped or moved since it was written.

A seal tells of damage to one event. The chain ties each event to all before it, so that who has
the database in hand must write a batch's whole end anew to change its middle; and last links that
were noted elsewhere tell even that.
"""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from sqlalchemy import select

from assistant.base.errors import WrongUse
from assistant.keep import opening, schema
from assistant.keep.faults import translated
from assistant.keep.journal import Journal
from assistant.keep.seal import link, seal
from assistant.keep.summaries import is_whole

_AT_ONCE = 2_000


@dataclass(frozen=True)
class Audited:
    """One batch that was walked.

    events : how many, and link : the chain's last link
    wrong : what is wrong with it, as the end of a sentence; "" when nothing is
    """

    batch: str
    events: int
    link: str
    wrong: str = ""


@dataclass(frozen=True)
class Noted:
    """A batch's link at a time when somebody noted it."""

    batch: str
    events: int
    link: str


def audit(journal: Journal, noted: Iterable[Noted] = ()) -> Iterator[Audited]:
    """Walk all batches; those that were noted must still have the link that they had then."""
    expected = {one.batch: one for one in noted}
    table = schema.events.c
    wanted = select(table.batch, table.seq, table.body, table.seal, table.chain)
    with translated(journal.store), opening.reading(journal.engine) as connection:
        connection.execution_options(yield_per=_AT_ONCE)
        rows = connection.execute(wanted.order_by(table.batch, table.seq))
        plain = ((str(r[0]), int(r[1]), str(r[2]), r[3], r[4]) for r in rows)
        for batch, of_it in groupby(plain, key=lambda row: row[0]):
            yield _walked(batch, of_it, expected.pop(batch, None))
    for gone in expected.values():
        yield Audited(gone.batch, 0, "", f"is gone; {gone.events} events were noted")


Row = tuple[str, int, str, str | None, str | None]


def _walked(batch: str, rows: Iterable[Row], noted: Noted | None) -> Audited:
    before, events, wrong = "", 0, ""
    for _, seq, body, sealed, linked in rows:
        before = link(before, batch, seq, body)
        wrong = wrong or _wrong(events, seq, sealed == seal(batch, seq, body), linked == before)
        events += 1
        if noted is not None and events == noted.events and before != noted.link and not wrong:
            wrong = f"is not what was noted, somewhere in its first {events} events"
    if noted is not None and events < noted.events and not wrong:
        wrong = f"has {events} events and had {noted.events} when it was noted"
    return Audited(batch, events, before, wrong)


def _wrong(place: int, seq: int, is_sealed: bool, is_linked: bool) -> str:
    if seq != place:
        return f"lacks its entry {place}"
    if not is_sealed:
        return f"has an entry {place} that is not as it was written"
    return "" if is_linked else f"has an entry {place} that does not follow from those before it"


def unsealed_summaries(journal: Journal) -> list[str]:
    """Batches whose summary is not as it was worked out; a look back works those anew."""
    with translated(journal.store), opening.reading(journal.engine) as connection:
        rows = connection.execute(select(schema.summaries)).mappings()
        return sorted(str(row["batch"]) for row in rows if not is_whole(row))


def note(found: Iterable[Audited], file: Path) -> None:
    """Write links where the store's keeper can't reach them; WrongUse where that fails."""
    lines = (
        json.dumps({"batch": one.batch, "events": one.events, "link": one.link}) + "\n"
        for one in found
    )
    try:
        with file.open("x", encoding="utf-8") as opened:
            opened.writelines(lines)
    except FileExistsError:
        raise WrongUse(f"{file} is there already; give another name.") from None
    except OSError as error:
        raise WrongUse(f"{file} can't be written ({error.strerror}).") from error


def read_notes(file: Path) -> list[Noted]:
    """Links that were noted; WrongUse where the file holds something else."""
    try:
        rows = [json.loads(line) for line in file.read_text("utf-8").splitlines() if line.strip()]
        return [Noted(str(r["batch"]), int(r["events"]), str(r["link"])) for r in rows]
    except OSError as error:
        raise WrongUse(f"{file} can't be read ({error.strerror}).") from error
    except (ValueError, KeyError, TypeError) as error:
        raise WrongUse(f"{file} holds no links that `panside audit --note` wrote.") from error
