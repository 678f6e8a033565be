"""Kitchens that see only their own batches: row-level security, where a business wants it.

The server notes by itself which login began a batch, and shows a writer's login the rows of its
own batches only; readers see all. (PostgreSQL, "Row Security Policies".)
"""

from collections.abc import Iterator

from sqlalchemy import Connection, text

from assistant.base.errors import WrongUse
from assistant.keep import schema
from assistant.keep.faults import translated
from assistant.keep.journal import Journal
from assistant.keep.roles import Roles, quoted

_BY_BATCH = (
    schema.batches, schema.events, schema.news, schema.summaries, schema.marks, schema.aliases,
    schema.leases, schema.unsent,
)  # fmt: skip
_OWN = (
    "EXISTS (SELECT 1 FROM batch_logins own WHERE own.batch = {row} AND own.login = session_user)"
)


def keep_apart(owner: Journal, roles: Roles) -> None:
    """Let each kitchen's login see its own batches only; those begun before are for readers.

    owner : a store that the tables' owner has open. Done twice, it changes nothing more.
    """
    if owner.engine.dialect.name != "postgresql":
        raise WrongUse(f"{owner.store} is a file: who may do what is for a server to say.")
    with translated(owner.store), owner.engine.begin() as connection:
        for statement in _noted(connection, roles):
            connection.execute(text(statement))
        for statement in _policies(connection, roles):
            connection.execute(text(statement))


def keep_together(owner: Journal) -> None:
    """Let every kitchen see every batch again; who began them stays noted."""
    with translated(owner.store), owner.engine.begin() as connection:
        for table in _BY_BATCH:
            connection.execute(text(f"ALTER TABLE {table.name} DISABLE ROW LEVEL SECURITY"))


def _noted(connection: Connection, roles: Roles) -> Iterator[str]:
    here = quoted(connection, str(connection.scalar(text("SELECT current_schema()"))))
    yield "CREATE TABLE IF NOT EXISTS batch_logins (batch text PRIMARY KEY, login name NOT NULL)"
    writer, reader = quoted(connection, roles.writer), quoted(connection, roles.reader)
    yield f"REVOKE ALL ON batch_logins FROM PUBLIC, {writer}, {reader}"
    yield f"GRANT SELECT ON batch_logins TO {writer}, {reader}"
    # The owner's rights, so that no writer can note a batch under another's login.
    yield (
        "CREATE OR REPLACE FUNCTION batch_begun() RETURNS trigger LANGUAGE plpgsql"
        f" SECURITY DEFINER SET search_path = {here}, pg_temp AS"
        " 'BEGIN INSERT INTO batch_logins VALUES (NEW.id, session_user); RETURN NEW; END'"
    )
    yield "DROP TRIGGER IF EXISTS batches_begun ON batches"
    yield (
        "CREATE TRIGGER batches_begun AFTER INSERT ON batches FOR EACH ROW"
        " EXECUTE FUNCTION batch_begun()"
    )


def _policies(connection: Connection, roles: Roles) -> Iterator[str]:
    writer, reader = quoted(connection, roles.writer), quoted(connection, roles.reader)
    for table in _BY_BATCH:
        column = "id" if table is schema.batches else "batch"
        own = _OWN.format(row=f"{table.name}.{column}")
        for policy in ("kitchens_own", "readers_all", "kitchens_begin"):
            yield f"DROP POLICY IF EXISTS {policy} ON {table.name}"
        yield (
            f"CREATE POLICY kitchens_own ON {table.name} TO {writer}"
            f" USING ({own}) WITH CHECK ({own})"
        )
        yield f"CREATE POLICY readers_all ON {table.name} FOR SELECT TO {reader} USING (true)"
        yield f"ALTER TABLE {table.name} ENABLE ROW LEVEL SECURITY"
    yield f"CREATE POLICY kitchens_begin ON batches FOR INSERT TO {writer} WITH CHECK (true)"
