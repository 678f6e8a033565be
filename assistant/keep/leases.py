"""Who works on a batch: a lease, taken for a while and given longer with every turn.

It keeps two kitchens from working on one pan without knowing of each other. It is no lock: whoever
asks for it may join, and the other is told with the next thing that is said. Clocks may differ
between kitchens; they only decide whether somebody is asked before joining, never what is written.
"""

import os
import platform
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, delete, insert, select, update

from assistant.base.errors import LeaseLost
from assistant.keep import schema

LENGTH = timedelta(minutes=10)
"""So long after the last turn a batch still counts as worked on."""
_table = schema.leases.c


@dataclass(frozen=True)
class Lease:
    """A batch that somebody works on.

    who, where : the cook and the kitchen, as they may be shown; "" where nobody said
    since, until : from the first turn, and to the moment when nobody need be asked any more
    mine : whether it was given to the journal that tells of it
    """

    batch: str
    who: str
    where: str
    since: datetime
    until: datetime
    mine: bool = False

    def counts(self, now: datetime) -> bool:
        """Whether it still counts."""
        return now < self.until

    @property
    def words(self) -> str:
        """Who and where, as the beginning of a sentence.

        >>> at = datetime(2026, 7, 4)
        >>> Lease("b", "Ana", "the tea hut", at, at).words, Lease("b", "", "", at, at).words
        ('Ana in the tea hut', 'Somebody')
        """
        return f"{self.who or 'Somebody'}{f' in {self.where}' if self.where else ''}"


@dataclass(frozen=True)
class Asker:
    """Who asks for leases: one program at work, with one token for all its batches."""

    token: str
    who: str = ""
    where: str = ""


def asker(who: str = "", where: str = "") -> Asker:
    """This program, told apart from every other."""
    return Asker(f"{platform.node()}/{os.getpid()}/{secrets.token_hex(6)}", who, where)


def take(
    connection: Connection, batch: str, asks: Asker, now: datetime, until: datetime, join: bool
) -> Lease:
    """The lease of a batch: the asker's if it was free or is joined, else that of who has it."""
    held = _held(connection, batch, asks, to_change=True)
    if held is not None and not join and not held.mine and held.counts(now):
        return held
    connection.execute(delete(schema.leases).where(_table.batch == batch))
    row = {"batch": batch, "holder": asks.token, "who": asks.who, "place": asks.where}
    since = held.since if held is not None and held.mine else now
    times = {"since": since.isoformat(), "until": until.isoformat()}
    connection.execute(insert(schema.leases).values(**row, **times))
    return Lease(batch, asks.who, asks.where, since, until, mine=True)


def keep(connection: Connection, batch: str, asks: Asker, until: datetime) -> None:
    """Give a lease longer; taken again where it is gone, LeaseLost where somebody else has it."""
    ours = (_table.batch == batch) & (_table.holder == asks.token)
    longer = update(schema.leases).where(ours).values(until=until.isoformat())
    if connection.execute(longer).rowcount:
        return
    held = _held(connection, batch, asks)
    if held is not None and not held.mine:
        raise LeaseLost(
            f"{held.words} works on batch {batch} now, since {held.since:%H:%M}; what you said was"
            " not written down",
            held,
        )
    take(connection, batch, asks, until - LENGTH, until, join=True)


def give_back(connection: Connection, batch: str, asks: Asker) -> None:
    """Nobody works on it any more, unless somebody else has taken it meanwhile."""
    ours = (_table.batch == batch) & (_table.holder == asks.token)
    connection.execute(delete(schema.leases).where(ours))


def look(connection: Connection, batch: str, asks: Asker) -> Lease | None:
    """Whose a batch is, None where nobody has it."""
    return _held(connection, batch, asks)


def _held(connection: Connection, batch: str, asks: Asker, to_change: bool = False) -> Lease | None:
    wanted = select(schema.leases).where(_table.batch == batch)
    if to_change and connection.dialect.name == "postgresql":
        wanted = wanted.with_for_update()
    row = connection.execute(wanted).mappings().first()
    if row is None or (row["holder"] != asks.token and _is_gone(row["holder"])):
        return None
    since, until = (datetime.fromisoformat(row[name]) for name in ("since", "until"))
    mine = row["holder"] == asks.token
    return Lease(batch, row["who"], row["place"], since, until, mine)


def _is_gone(token: str) -> bool:
    """Whether the program that had a lease ran on this machine and ended without giving it back."""
    node, process, _ = f"{token}//".split("/", 2)
    if os.name != "posix" or node != platform.node() or not process.isdecimal():
        return False
    try:
        os.kill(int(process), 0)
    except ProcessLookupError:
        return True
    except (PermissionError, OverflowError):
        return False
    return False
