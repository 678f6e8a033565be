"""Bringing a store of an older layout to this one: a copy first, then all steps or none."""

import sqlite3
from contextlib import closing
from pathlib import Path

from alembic.migration import MigrationContext
from alembic.operations import Operations
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, text

from assistant.base.errors import StoreUnusable
from assistant.keep import schema
from assistant.keep.copying import copy_file, free_name
from assistant.keep.server_backup import why_not_fresh

_STEPS = Path(__file__).parent / "migrations"


def migrate(connection: Connection, held: str | None) -> None:
    """Run the steps from a layout to the newest, inside the caller's transaction.

    held : the layout that the store has; None for an empty one
    """
    script = ScriptDirectory(str(_STEPS))
    context = MigrationContext.configure(connection)
    steps = [s for s in script.iterate_revisions("head", held or "base") if s.revision != held]
    with Operations.context(context):
        for step in reversed(steps):
            step.module.upgrade()
            context.stamp(script, step.revision)


def copy_first(file: str, layout: str) -> Path:
    """A proven copy of a store's file beside it, before its layout changes; never over another."""
    copy = free_name(Path(f"{file}.layout-{layout}"))
    copy_file(Path(file), copy)
    with closing(sqlite3.connect(copy)) as made:
        if made.execute("PRAGMA integrity_check").fetchone() != ("ok",):
            raise StoreUnusable(
                f"{file} is damaged, so its layout stays as it is; see `panside salvage --help`"
            )
    return copy


def allow(connection: Connection, store: str, held: str) -> None:
    """StoreUnusable unless a server's owner asks for the newer layout, with a fresh backup."""
    older = f"{store} is of an older layout ({held}, this Panside's is {schema.VERSION})"
    owns = text(
        "SELECT pg_has_role(relowner, 'USAGE') FROM pg_class WHERE oid = 'events'::regclass"
    )
    if not connection.scalar(owns):
        raise StoreUnusable(
            f"{older}; let its owner run `panside store backup FOLDER` and `panside store prepare`,"
            " and go on with the Panside from before until then"
        )
    why = why_not_fresh(connection)
    if why is not None:
        raise StoreUnusable(
            f"{older}, and {why}; run `panside store backup FOLDER` first, then this again"
        )
