"""Gathers the commands and turns errors into one sentence and an exit code.

A command's module is imported when the command is called, so that `panside --version` does not
wait for a recogniser.
"""

import gc
import os
import sys
from importlib import import_module
from typing import Any

import typer
from typer.core import TyperGroup

from assistant import __version__
from assistant.base.errors import PansideError
from assistant.commands.ending import ENDING

COMMANDS = {
    "demo": "demo:demo",
    "talk": "talk:talk",
    "chat": "chat:chat",
    "hear": "hear:hear",
    "recipes": "recipes:recipes",
    "batches": "batches:batches",
    "batch": "batches:batch",
    "label": "label:label",
    "plan": "plan:plan",
    "again": "again:again",
    "compare": "compare:compare",
    "export": "export:export",
    "import": "export:import_",
    "backup": "backup:backup",
    "restore": "backup:restore",
    "salvage": "backup:salvage",
    "merge": "merge:merge",
    "audit": "audit:audit",
    "store": "store:app",
    "screen": "screen:screen",
    "ready": "ready:ready",
    "who": "who:who",
    "reckon": "reckon:app",
    "larder": "larder:app",
}
"""Each command's module in this folder, and its function or its group of commands there."""


class Commands(TyperGroup):
    """Commands that are looked up by name and imported when they are wanted."""

    def list_commands(self, ctx: Any) -> list[str]:
        """The names, in the order of the help text."""
        del ctx
        return list(COMMANDS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """The command of that name, None where there is none."""
        del ctx
        if cmd_name not in COMMANDS:
            return None
        module, _, name = COMMANDS[cmd_name].partition(":")
        return _command(cmd_name, getattr(import_module(f"assistant.commands.{module}"), name))


def _command(name: str, made: Any) -> Any:
    if isinstance(made, typer.Typer):
        group = typer.main.get_command(made)
        group.name = name
        return group
    alone = typer.Typer(add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None)
    alone.command(name)(made)
    return typer.main.get_command(alone)


app = typer.Typer(
    name="panside",
    cls=Commands,
    help="An offline voice-and-chat helper for small-batch fruit syrup makers with sticky hands.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(__version__)
        raise typer.Exit


@app.callback()
def _root(
    context: typer.Context,
    version: bool = typer.Option(
        False, "--version", help="Print the version.", callback=_version, is_eager=True
    ),
) -> None:
    """Exit codes: 0 done, 2 wrong use, 3 a limit stopped it, 4 something needed is missing."""
    del version
    context.call_on_close(ENDING.close)


_FEWER_ROUNDS = 50_000
"""New objects between two rounds of Python's search for garbage; at its own 700 it goes through
all that was imported some hundred times before the first answer."""


def _start_quickly() -> None:
    gc.set_threshold(_FEWER_ROUNDS, 20, 20)
    # No package of others has a say in our events, and to look for one reads every package's list.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")


def main() -> None:
    """Run the command line; never shows a traceback for an error a user can meet."""
    _start_quickly()
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
