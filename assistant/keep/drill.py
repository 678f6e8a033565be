"""A restore drill: a server's backup put back aside, walked, compared with the live store."""

from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import URL, select, tuple_

from assistant.keep import opening, schema
from assistant.keep.audit import audit
from assistant.keep.faults import translated
from assistant.keep.journal import Journal
from assistant.keep.patience import unhurried
from assistant.keep.server_backup import trial_server

_AT_ONCE = 500


@dataclass(frozen=True)
class Drilled:
    """What came of a drill.

    base : the base backup that was put back, with the log behind it
    batches, events : what it holds
    wrong : batches that are not as they were written, each with the end of a sentence
    newer : events of the live store that are not in it, None where that was not asked
    parted : batches that the live store has otherwise
    """

    base: Path
    batches: int
    events: int
    wrong: dict[str, str]
    newer: int | None
    parted: tuple[str, ...]

    @property
    def is_sound(self) -> bool:
        """Whether the backup can be put in the live store's place."""
        return not self.wrong and not self.parted


def drill(url: URL, folder: Path, base: str | None = None, live: bool = True) -> Drilled:
    """Put a backup back aside, walk every batch's chain there, compare it with the live store.

    url : the owner's login on the live server; live : False where that is gone
    Nothing on the live server is changed.
    """
    with unhurried(), trial_server(folder, base) as (socket, taken):
        aside = url.set(host=None, port=None, password=None, query={"host": str(socket)})
        if "options" in url.query:
            aside = aside.update_query_dict({"options": url.query["options"]})
        with Journal(aside.render_as_string()) as journal:
            walked = list(audit(journal))
        wrong = {one.batch: one.wrong for one in walked if one.wrong}
        links = {one.batch: (one.events, one.link) for one in walked}
        newer, parted = _compared(url, links) if live else (None, ())
    events = sum(one.events for one in walked)
    return Drilled(taken, len(walked), events, wrong, newer, parted)


Links = dict[str, tuple[int, str]]


def _compared(url: URL, links: Links) -> tuple[int, tuple[str, ...]]:
    """How many events the live store has beyond these, and which batches it has otherwise."""
    table, names = schema.events.c, sorted(links)
    same: set[str] = set()
    store = opening.shown(url)
    with opening.server_engine(url) as engine, translated(store), opening.reading(engine) as live:
        live.exec_driver_sql("SET LOCAL statement_timeout = 0")
        for start in range(0, len(names), _AT_ONCE):
            last = [(name, links[name][0] - 1) for name in names[start : start + _AT_ONCE]]
            wanted = select(table.batch, table.chain).where(
                tuple_(table.batch, table.seq).in_(last)
            )
            same |= {name for name, chain in live.execute(wanted) if chain == links[name][1]}
        held = live.exec_driver_sql("SELECT count(*) FROM events").scalar_one()
    parted = tuple(name for name in names if name not in same)
    return held - sum(events for events, _ in links.values()), parted
