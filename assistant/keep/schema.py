"""The tables of the journal. Rows go in and stay: the database itself refuses to change them."""

from sqlalchemy import Column, Connection, ForeignKey, Integer, MetaData, Table, Text

VERSION = 1
"""The layout of the tables; raised by each change that an older Panside can't read."""

metadata = MetaData()
batches = Table(
    "batches",
    metadata,
    Column("id", Text, primary_key=True),
    Column("recipe", Text, nullable=False),
    Column("begun_at", Text, nullable=False),
)
events = Table(
    "events",
    metadata,
    Column("batch", Text, ForeignKey("batches.id"), primary_key=True),
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("at", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("body", Text, nullable=False),
)
store_version = Table("store_version", metadata, Column("version", Integer, nullable=False))

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
    """Make the tables, the guards that refuse changes, and the note of the version."""
    metadata.create_all(connection)
    for table in (batches, events):
        for text in _GUARDS[connection.dialect.name]:
            connection.exec_driver_sql(text.format(table=table.name))
    connection.execute(store_version.insert().values(version=VERSION))
