"""Lots that stay findable, leases, sealed summaries, every event sealed and chained."""

from collections.abc import Iterator

import sqlalchemy as sa
from alembic import op

from assistant.keep.names import lot_before
from assistant.keep.schema import new_standing, unguarded
from assistant.keep.seal import facts_seal, link, seal

revision = "3"
down_revision = "2"

_AT_ONCE = 2_000
_batches = sa.table("batches", sa.column("id"))
_FACTS = (
    *("batch", "events", "begun", "last", "recipe", "fruit", "open", "filled", "emptied", "body"),
    "code",
)
_summaries = sa.table("summaries", *map(sa.column, (*_FACTS, "seal")))
_events = sa.table("events", *map(sa.column, ("batch", "seq", "body", "seal", "chain")))


def upgrade() -> None:
    """Events keep their bodies; those from before seals get one, all are chained."""
    op.add_column("events", sa.Column("chain", sa.Text))
    op.add_column("summaries", sa.Column("seal", sa.Text, nullable=False, server_default=""))
    aliases = op.create_table(
        "aliases",
        sa.Column("lot", sa.Text, primary_key=True),
        sa.Column("batch", sa.Text, primary_key=True),
    )
    texts = ("holder", "who", "place", "since", "until")
    op.create_table(
        "leases",
        sa.Column("batch", sa.Text, primary_key=True),
        *(sa.Column(name, sa.Text, nullable=False) for name in texts),
    )
    standing = op.create_table(
        "standing",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("turns", sa.Integer, nullable=False),
        sa.Column("open", sa.Integer, nullable=False),
    )
    connection = op.get_bind()
    found = _lots(connection)
    if found:
        connection.execute(aliases.insert(), found)
    connection.execute(standing.insert().values(**new_standing()))
    _seal_summaries(connection)
    with unguarded(connection, "events"):
        _chain(connection)
    op.execute("UPDATE store_version SET version = 3")


def _lots(connection: sa.Connection) -> list[dict[str, str]]:
    """What batches were called before a merge gave them a second name."""
    names = set(connection.scalars(sa.select(_batches.c.id)))
    before = ((name, lot_before(name)) for name in sorted(names))
    return [{"lot": lot, "batch": name} for name, lot in before if lot in names]


def _seal_summaries(connection: sa.Connection) -> None:
    write = (
        sa.update(_summaries)
        .where(_summaries.c.batch == sa.bindparam("of"))
        .values(seal=sa.bindparam("sealed"))
    )
    rows = connection.execute(sa.select(*(_summaries.c[name] for name in _FACTS))).all()
    for start in range(0, len(rows), _AT_ONCE):
        chunk = rows[start : start + _AT_ONCE]
        connection.execute(write, [{"of": row[0], "sealed": facts_seal(row)} for row in chunk])


def _chain(connection: sa.Connection) -> None:
    write = (
        sa.update(_events)
        .where(_events.c.batch == sa.bindparam("of"), _events.c.seq == sa.bindparam("at"))
        .values(seal=sa.bindparam("sealed"), chain=sa.bindparam("linked"))
    )
    rows: list[dict[str, object]] = []
    for row in _linked(connection):
        rows.append(row)
        if len(rows) == _AT_ONCE:
            connection.execute(write, rows)
            rows = []
    if rows:
        connection.execute(write, rows)


def _linked(connection: sa.Connection) -> Iterator[dict[str, object]]:
    """Each event's seal, made where it has none, and its link to the one before.

    Batch by batch, so that no row is read after it has been written.
    """
    for name in connection.scalars(sa.select(_batches.c.id)).all():
        wanted = (
            sa.select(_events.c.seq, _events.c.body, _events.c.seal)
            .where(_events.c.batch == name)
            .order_by(_events.c.seq)
        )
        before = ""
        for seq, body, sealed in connection.execute(wanted).all():
            before = link(before, name, seq, body)
            sealed = sealed or seal(name, seq, body)
            yield {"of": name, "at": seq, "sealed": sealed, "linked": before}
