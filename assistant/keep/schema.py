"""The tables of the journal. Rows go in and stay: the database itself refuses to change them.

`batches` and `events` are the truth. `summaries` and `news` are worked out from them and may be
thrown away at any time; so may `aliases`, under what other lots a batch's labels were printed.
`leases` tell who works on a batch now, `unsent` names batches that a shared store has still to get,
and `standing` tells whether a file is whole without its log.
"""

import secrets
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
)

REVISIONS = ("1", "2", "3")
"""The layouts that were, the newest last; each has a module in `migrations/versions`."""
VERSION = len(REVISIONS)
"""The same as a number, for a Panside from before there were revisions."""

metadata = MetaData()
batches = Table(
    "batches",
    metadata,
    Column("id", Text, primary_key=True),
    Column("recipe", Text, nullable=False),
    Column("begun_at", Text, nullable=False),
    Index("batches_begun_at", "begun_at"),
)
events = Table(
    "events",
    metadata,
    Column("batch", Text, ForeignKey("batches.id"), primary_key=True),
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("at", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("seal", Text),
    Column("chain", Text),
)
aliases = Table(
    "aliases",
    metadata,
    Column("lot", Text, primary_key=True),
    Column("batch", Text, primary_key=True),
)
"""Lots printed on labels, other than a batch's own name, and the batch that they belong to."""
leases = Table(
    "leases",
    metadata,
    Column("batch", Text, primary_key=True),
    Column("holder", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("place", Text, nullable=False),
    Column("since", Text, nullable=False),
    Column("until", Text, nullable=False),
)
standing = Table(
    "standing",
    metadata,
    Column("id", Text, primary_key=True),
    Column("turns", Integer, nullable=False),
    Column("open", Integer, nullable=False),
)
"""One row: which store it is, how often it was written to, and whether somebody still may."""
news = Table(
    "news",
    metadata,
    Column("batch", Text, primary_key=True),
    Column("seq", Integer, primary_key=True, autoincrement=False),
)
summaries = Table(
    "summaries",
    metadata,
    Column("batch", Text, primary_key=True),
    Column("events", Integer, nullable=False),
    Column("begun", Text, nullable=False),
    Column("last", Text, nullable=False),
    Column("recipe", Text, nullable=False),
    Column("fruit", Text, nullable=False),
    Column("open", Integer, nullable=False),
    Column("filled", Text, nullable=False),
    Column("emptied", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("code", Text, nullable=False),
    Column("seal", Text, nullable=False, server_default=""),
    Index("summaries_begun", "begun"),
    Index("summaries_open", "open", "last"),
    Index("summaries_shelf", "emptied"),
    Index("summaries_kind", "recipe", "fruit", "begun"),
    Index("summaries_code", "code"),
)
unsent = Table("unsent", metadata, Column("batch", Text, primary_key=True))
marks = Table(
    "marks",
    metadata,
    Column("batch", Text, primary_key=True),
    Column("id", Text, primary_key=True),
)
"""Ids of messages whose events are written."""
store_version = Table("store_version", metadata, Column("version", Integer, nullable=False))
revision = Table(
    "alembic_version",
    metadata,
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)

_NEVER = "the journal is never edited"
_SQLITE = tuple(
    f"CREATE TRIGGER {{table}}_no_{verb} BEFORE {verb} ON {{table}}"
    f" BEGIN SELECT RAISE(ABORT, '{_NEVER}'); END"
    for verb in ("UPDATE", "DELETE")
)
_POSTGRES = (
    "CREATE FUNCTION {table}_unchanged() RETURNS trigger LANGUAGE plpgsql"
    f" AS 'BEGIN RAISE EXCEPTION ''{_NEVER}''; END'",
    "CREATE TRIGGER {table}_unchanged BEFORE UPDATE OR DELETE OR TRUNCATE ON {table}"
    " FOR EACH STATEMENT EXECUTE FUNCTION {table}_unchanged()",
)
_GUARDS = {"sqlite": _SQLITE, "postgresql": _POSTGRES}


def create(connection: Connection) -> None:
    """Make the tables, the guards that refuse changes, and the notes of the layout."""
    metadata.create_all(connection)
    guard(connection)
    connection.execute(standing.insert().values(**new_standing()))
    connection.execute(store_version.insert().values(version=VERSION))
    connection.execute(revision.insert().values(version_num=REVISIONS[-1]))


def guard(connection: Connection) -> None:
    """Let the database refuse to change or remove a batch or an event."""
    for table in (batches, events):
        for text in _GUARDS[connection.dialect.name]:
            connection.exec_driver_sql(text.format(table=table.name))


def new_standing() -> dict[str, str | int]:
    """The standing of a store that nobody has written to."""
    return {"id": secrets.token_hex(8), "turns": 0, "open": 0}


@contextmanager
def unguarded(connection: Connection, table: str) -> Iterator[None]:
    """Without one table's guard, for a step to a newer layout that fills in a new column."""
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql(f"ALTER TABLE {table} DISABLE TRIGGER USER")
        yield
        connection.exec_driver_sql(f"ALTER TABLE {table} ENABLE TRIGGER USER")
        return
    for verb in ("UPDATE", "DELETE"):
        connection.exec_driver_sql(f"DROP TRIGGER {table}_no_{verb}")
    yield
    for text in _SQLITE:
        connection.exec_driver_sql(text.format(table=table))
