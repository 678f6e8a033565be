"""Gathers the commands and turns errors into one sentence and an exit code."""

import os
import sys

import typer

from assistant import __version__
from assistant.base.errors import PansideError
from assistant.commands import (
    again,
    backup,
    batches,
    chat,
    compare,
    demo,
    export,
    hear,
    label,
    larder,
    merge,
    plan,
    ready,
    recipes,
    reckon,
    screen,
    talk,
)

app = typer.Typer(
    name="panside",
    help="An offline voice-and-chat helper for small-batch fruit syrup makers with sticky hands.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
app.command()(demo.demo)
app.command()(talk.talk)
app.command()(chat.chat)
app.command()(hear.hear)
app.command()(recipes.recipes)
app.command()(batches.batches)
app.command()(batches.batch)
app.command()(label.label)
app.command()(plan.plan)
app.command()(again.again)
app.command()(compare.compare)
app.command()(export.export)
app.command("import")(export.import_)
app.command()(backup.backup)
app.command()(backup.restore)
app.command()(backup.salvage)
app.command()(merge.merge)
app.command()(screen.screen)
app.command()(ready.ready)
app.add_typer(reckon.app, name="reckon")
app.add_typer(larder.app, name="larder")


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(__version__)
        raise typer.Exit


@app.callback()
def _root(
    version: bool = typer.Option(
        False, "--version", help="Print the version.", callback=_version, is_eager=True
    ),
) -> None:
    """Exit codes: 0 done, 2 wrong use, 3 a limit stopped it, 4 something needed is missing."""


def main() -> None:
    """Run the command line; never shows a traceback for an error a user can meet."""
    try:
        app()
    except PansideError as error:
        typer.echo(f"panside: {error}", err=True)
        sys.exit(error.exit_code)
    except KeyboardInterrupt:
        typer.echo("\npanside: interrupted. The batch is kept as far as it was answered.", err=True)
        sys.exit(130)
    except BrokenPipeError:
        # The reader went away; say nothing and let Python not say it either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
