"""`panside merge`: what another store has and this one lacks."""

from collections.abc import Iterable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated

import typer

from assistant.base.errors import StoreAway
from assistant.commands.options import AsJson, Store, emit, open_journal, without_secret
from assistant.keep import Brought, Journal, SharedJournal, restore
from assistant.keep import merge as bring_all
from assistant.past.joining import disputed, may_join, told


def merge(
    other: Annotated[
        str | None,
        typer.Argument(
            help="A store's file or URL, or a backup. It is only read.", callback=without_secret
        ),
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Add what another store has and this one lacks. Done twice, it changes nothing more.

    Where both went on with one batch, bottles and notes are joined; else both are kept.
    """
    journal = open_journal(store)
    if isinstance(journal, SharedJournal) and journal.away:
        raise StoreAway("The shared store is out of reach; what this kitchen wrote waits here.")
    if other is None:
        found = journal.send(looked_at=None) if isinstance(journal, SharedJournal) else []
        _told(found, json) if found else typer.echo("Nothing waits to be sent.")
        return
    if "://" in other:
        _told(bring_all(Journal(other), journal, may_join), json)
        return
    with TemporaryDirectory() as folder, Journal(Path(folder) / "other.sqlite") as copy:
        restore(Path(other), copy)
        _told(bring_all(copy, journal, may_join), json)


def _told(found: Iterable[Brought], json: bool) -> None:
    there = changed = 0
    for one in found:
        there += one.how == "there"
        changed += one.how != "there"
        odd = disputed(one.held, one.added) if one.how == "joined" else []
        if json:
            emit({"batch": one.batch, "name": one.name, "how": one.how, "added": len(one.added),
                  "disputed": [event.meaning() for event in odd]})  # fmt: skip
        elif one.how != "there":
            typer.echo(told(one))
    if not json:
        typer.echo(f"{changed} batch(es) added or made longer, {there} were there already.")
