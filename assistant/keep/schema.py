"""The tables of the journal. Rows go in and stay: the database itself refuses to change them.

`batches` and `events` are the truth. `summaries` and `news` are worked out from them and may be
thrown away at any time; `unsent` names batches that a shared store has still to get.
"""

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

REVISIONS = ("1", "2")
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
)
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
    connection.execute(store_version.insert().values(version=VERSION))
    connection.execute(revision.insert().values(version_num=REVISIONS[-1]))


def guard(connection: Connection) -> None:
    """Let the database refuse to change or remove a batch or an event."""
    for table in (batches, events):
        for text in _GUARDS[connection.dialect.name]:
            connection.exec_driver_sql(text.format(table=table.name))
