"""`panside store`: a server that kitchens share: made ready, and proven."""

from typing import Annotated

import typer

from assistant.base.errors import StoreUnusable
from assistant.commands.options import AsJson, Store, emit, until_the_end
from assistant.keep import Journal, default_path
from assistant.keep.roles import check as check_roles
from assistant.keep.roles import prepare as prepare_roles

app = typer.Typer(
    help="A server that several kitchens share: made ready, and proven.",
    no_args_is_help=True,
    rich_markup_mode=None,
)


@app.command()
def prepare(
    writer: Annotated[
        list[str] | None, typer.Option("--writer", help="A login of a kitchen. May be repeated.")
    ] = None,
    reader: Annotated[
        list[str] | None, typer.Option("--reader", help="A login that only looks.")
    ] = None,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Make the tables and the roles of writers and readers, as the database's owner.

    Done again, it adds the logins that are named.
    """
    journal = until_the_end(Journal(store or default_path()))
    names = prepare_roles(journal, writer or (), reader or ())
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
