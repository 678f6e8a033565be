"""Summaries in memory, for a store that can only be read: on a full disk, in a reader's role."""

from sqlalchemy import Engine, Table, create_engine, select
from sqlalchemy.pool import StaticPool

from assistant.keep import opening, schema

_AT_ONCE = 2_000


def in_memory(engine: Engine) -> Engine:
    """A database of our own with what summaries are made by, as the store has it now."""
    made = create_engine(
        "sqlite://", poolclass=StaticPool, connect_args={"check_same_thread": False}
    )
    schema.metadata.create_all(made)
    for table in (schema.batches, schema.summaries, schema.news):
        _copy(table, engine, made)
    return made


def _copy(table: Table, source: Engine, target: Engine) -> None:
    with opening.reading(source) as had, target.begin() as has:
        for rows in had.execute(select(table)).mappings().partitions(_AT_ONCE):
            has.execute(table.insert(), [dict(row) for row in rows])
