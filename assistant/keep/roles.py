"""Who may do what on a server: an owner, writers and readers, made and proven.

The owner makes the tables and their guards, and is used for nothing else. A writer appends and can
neither change nor remove an event, nor switch a guard off, because the tables are not its own. A
reader lists, reports and exports. (PostgreSQL, "Database Roles", "Privileges".)
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, text
from sqlalchemy.exc import DBAPIError

from assistant.base.errors import WrongUse
from assistant.keep import schema
from assistant.keep.faults import translated
from assistant.keep.journal import Journal

_KEPT = (schema.batches, schema.events)
_SCRATCH = (schema.news, schema.summaries, schema.unsent, schema.leases)
"""What is worked out, or true for a while: writers may change it."""
_ADDED = (schema.aliases, schema.marks)


@dataclass(frozen=True)
class Roles:
    """The names of the two roles of one database; people's own roles are members of one."""

    writer: str
    reader: str


@dataclass(frozen=True)
class Tried:
    """One thing that was tried as the role that is connected.

    what : as the end of "may" or "may not"; may : whether it could be done
    """

    what: str
    may: bool


@dataclass(frozen=True)
class Checked:
    """What the role that is connected may do, and whether that is right for what it is."""

    role: str
    kind: str
    tried: tuple[Tried, ...]

    @property
    def is_sound(self) -> bool:
        """Whether it may do what a writer or a reader must, and nothing that harms."""
        may = {one.what: one.may for one in self.tried}
        harmless = not any(may[what] for what, _ in _HARM)
        return harmless and may[_LOOK] and self.kind in ("writer", "reader")


def prepare(owner: Journal, writers: Sequence[str] = (), readers: Sequence[str] = ()) -> Roles:
    """Make the roles and give them what they need; members are roles that can log in already.

    owner : a store that the tables' owner has open. Done twice, it changes nothing more.
    """
    if owner.engine.dialect.name != "postgresql":
        raise WrongUse(f"{owner.store} is a file: who may do what is for a server to say.")
    with translated(owner.store), owner.engine.begin() as connection:
        names = _names(connection)
        for name in (names.writer, names.reader):
            _make(connection, name)
        for statement in _grants(connection, names):
            connection.execute(text(statement))
        for role, members in ((names.writer, writers), (names.reader, readers)):
            for member in members:
                _join(connection, role, member)
    return names


def _names(connection: Connection) -> Roles:
    database, schema_name = connection.execute(
        text("SELECT current_database(), current_schema()")
    ).one()
    stem = database if schema_name == "public" else f"{database}_{schema_name}"
    return Roles(f"{stem}_writer"[-63:], f"{stem}_reader"[-63:])


def quoted(connection: Connection, name: str) -> str:
    """A name as it may stand in SQL."""
    return connection.dialect.identifier_preparer.quote_identifier(name)


def _make(connection: Connection, role: str) -> None:
    there = text("SELECT 1 FROM pg_roles WHERE rolname = :role")
    if connection.scalar(there, {"role": role}) is None:
        connection.execute(text(f"CREATE ROLE {quoted(connection, role)} NOLOGIN"))


def _grants(connection: Connection, names: Roles) -> Iterator[str]:
    writer, reader = quoted(connection, names.writer), quoted(connection, names.reader)
    here = quoted(connection, str(connection.scalar(text("SELECT current_schema()"))))
    yield f"REVOKE CREATE ON SCHEMA {here} FROM PUBLIC"
    yield f"GRANT USAGE ON SCHEMA {here} TO {writer}, {reader}"
    for table in schema.metadata.sorted_tables:
        yield f"REVOKE ALL ON {table.name} FROM PUBLIC, {writer}, {reader}"
        yield f"GRANT SELECT ON {table.name} TO {writer}, {reader}"
    for table in (*_KEPT, *_ADDED, *_SCRATCH):
        yield f"GRANT INSERT ON {table.name} TO {writer}"
    for table in _SCRATCH:
        yield f"GRANT UPDATE, DELETE ON {table.name} TO {writer}"


def _join(connection: Connection, role: str, member: str) -> None:
    there = text("SELECT rolsuper FROM pg_roles WHERE rolname = :member")
    is_super = connection.scalar(there, {"member": member})
    if is_super is None:
        raise WrongUse(
            f"There is no role {member} on the server. Make it there with a password of its own:"
            f' CREATE ROLE "{member}" LOGIN, then \\password "{member}" in psql.'
        )
    if is_super:
        raise WrongUse(f"{member} is a superuser, who may do anything: take another role.")
    connection.execute(text(f"GRANT {quoted(connection, role)} TO {quoted(connection, member)}"))


_LOOK, _ADD, _SUMMARIZE = "look at every batch", "append an event", "write summaries"
_FIRST = "INSERT INTO batches (id, recipe, begun_at) VALUES ('tried', '', '')"
_EVENT = "INSERT INTO events (batch, seq, at, kind, body) VALUES ('tried', 0, '', '', '')"
_NEEDED: tuple[tuple[str, tuple[str, ...]], ...] = (
    (_LOOK, tuple(f"SELECT 1 FROM {table} LIMIT 1" for table in schema.metadata.tables)),
    (_ADD, (_FIRST, _EVENT)),
    (_SUMMARIZE, ("DELETE FROM summaries WHERE batch = ''",)),
)
_HARM: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("change an event", ("UPDATE events SET body = body WHERE false",)),
    ("remove an event", ("DELETE FROM events WHERE false",)),
    ("empty the journal", ("TRUNCATE events, batches CASCADE",)),
    ("switch a guard off", ("ALTER TABLE events DISABLE TRIGGER USER",)),
    ("drop a guard", ("DROP TRIGGER events_unchanged ON events",)),
    ("pass the guards by", ("SET LOCAL session_replication_role = replica",)),
    ("drop the journal", ("DROP TABLE events CASCADE",)),
    ("make tables here", ("CREATE TABLE tried_to_make (x int)",)),
)


def check(journal: Journal) -> Checked:
    """Try what the connected role may do. Nothing that is tried stays."""
    if journal.engine.dialect.name != "postgresql":
        raise WrongUse(f"{journal.store} is a file: whoever may write to it may do anything.")
    with translated(journal.store), journal.engine.connect() as connection:
        role = str(connection.scalar(text("SELECT current_user")))
        tried = tuple(
            Tried(what, _can(connection, statements)) for what, statements in (*_NEEDED, *_HARM)
        )
        connection.rollback()
    may = {one.what: one.may for one in tried}
    kind = "writer" if may[_ADD] else "reader" if may[_LOOK] else "stranger"
    return Checked(role, "owner" if may["switch a guard off"] else kind, tried)


def _can(connection: Connection, statements: tuple[str, ...]) -> bool:
    """Whether the server lets all of it be done; a guard that refuses it counts as no."""
    trying = connection.begin_nested()
    try:
        for statement in statements:
            connection.exec_driver_sql(statement)
    except DBAPIError:
        return False
    else:
        return True
    finally:
        trying.rollback()
