"""`panside store`: a server that kitchens share: made ready, and proven."""

from pathlib import Path
from typing import Annotated

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import StoreUnusable
from assistant.commands.options import AsJson, Store, emit, until_the_end
from assistant.commands.serve import serve, units
from assistant.keep import Journal, default_path
from assistant.keep.apart import keep_apart, keep_together
from assistant.keep.drill import drill as hold_drill
from assistant.keep.opening import address
from assistant.keep.roles import check as check_roles
from assistant.keep.roles import prepare as prepare_roles
from assistant.keep.server_backup import LOG, back_up_server, put_back

app = typer.Typer(
    help="A server that several kitchens share: made ready, and proven.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
app.command()(serve)
app.command()(units)


@app.command()
def prepare(
    writer: Annotated[
        list[str] | None, typer.Option("--writer", help="A login of a kitchen. May be repeated.")
    ] = None,
    reader: Annotated[
        list[str] | None, typer.Option("--reader", help="A login that only looks.")
    ] = None,
    apart: Annotated[
        bool | None,
        typer.Option("--apart/--together", help="Whether a kitchen sees its own batches only."),
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Make the tables and the roles of writers and readers, as the database's owner.

    Done again, it adds the logins that are named.
    """
    journal = until_the_end(Journal(store or default_path()))
    names = prepare_roles(journal, writer or (), reader or ())
    if apart is not None:
        keep_apart(journal, names) if apart else keep_together(journal)
    if json:
        emit({"store": journal.store, "writer": names.writer, "reader": names.reader})
        return
    typer.echo(
        f"{journal.store} is ready. Kitchens are members of {names.writer}, who only looks is"
    )
    typer.echo(f"a member of {names.reader}. Each gets a login of its own, made on the server:")
    typer.echo("  CREATE ROLE tea_hut LOGIN;   then, in psql: \\password tea_hut")
    typer.echo("  panside store prepare --writer tea_hut")
    typer.echo("Let no kitchen use the owner's login; `panside store check` proves a login.")


@app.command()
def check(json: AsJson = False, store: Store = None) -> None:
    """Try what the login may do: a writer appends and changes nothing, a reader looks."""
    journal = until_the_end(Journal(store or default_path()))
    found = check_roles(journal)
    if json:
        emit({"role": found.role, "kind": found.kind, "sound": found.is_sound,
              "may": {one.what: one.may for one in found.tried}})  # fmt: skip
    else:
        for one in found.tried:
            typer.echo(f"{'may    ' if one.may else 'may not'}  {one.what}")
    if not found.is_sound:
        raise StoreUnusable(
            f"{found.role} acts as {found.kind} of {journal.store}: no kitchen should use it; see"
            " `panside store prepare --help`"
        )
    if not json:
        typer.echo(f"{found.role} is a {found.kind}, and can harm nothing that was written.")


Folder = Annotated[Path, typer.Argument(help="Folder of base backups; its log/ is the archive.")]
Base = Annotated[str | None, typer.Option("--base", help="This base backup, not the newest.")]


@app.command()
def backup(folder: Folder, json: AsJson = False, store: Store = None) -> None:
    """Copy the whole server with its own tool into a new folder there, and verify the copy.

    The login needs the attribute REPLICATION. `panside store drill` proves what was copied.
    """
    made = back_up_server(address(store or default_path()), folder, WallClock().now())
    if json:
        emit(vars(made))
        return
    typer.echo(f"{made.folder}: {made.batches} batches, {made.events} entries, verified.")
    if not made.archived:
        typer.echo(
            "What comes after this is not in it: the server archives no log. In postgresql.conf,"
            f" with a restart:\n  archive_mode = on\n  archive_timeout = 60\n"
            f"  archive_command = 'test ! -f {folder.resolve() / LOG}/%f &&"
            f" cp %p {folder.resolve() / LOG}/%f'"
        )


@app.command()
def drill(
    folder: Folder,
    base: Base = None,
    alone: Annotated[
        bool, typer.Option("--alone", help="Do not compare it with the live store.")
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Put a backup back aside, start it, walk every batch in it, compare it with the live store.

    It needs room for a second server for a while. Nothing is changed.
    """
    found = hold_drill(address(store or default_path()), folder, base, live=not alone)
    if json:
        emit(vars(found) | {"sound": found.is_sound})
    else:
        for batch, wrong in found.wrong.items():
            typer.echo(f"Batch {batch} {wrong}.")
        for batch in found.parted:
            typer.echo(f"Batch {batch} is otherwise in the live store.")
    if not found.is_sound:
        raise StoreUnusable(f"{found.base} can't be relied on; make another, and look at the disk")
    if json:
        return
    typer.echo(f"{found.base.name} and the log behind it: {found.batches} batches, {found.events}"
               " entries, each as it was written.")  # fmt: skip
    if found.newer is not None:
        typer.echo(f"The live store has {found.newer} entries that are not in it.")


@app.command()
def restore(
    folder: Folder,
    data: Annotated[Path, typer.Argument(help="New data folder for a server.")],
    base: Base = None,
) -> None:
    """Make a server's data folder from a base backup; started, it takes in the archived log.

    Kitchens bring it what it lacks from their own journals, each with its next word.
    """
    taken = put_back(folder, data, base)
    typer.echo(f"{data} is made from {taken.name}. Start the server on it: pg_ctl -D {data} start")
