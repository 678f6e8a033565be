"""`panside store serve` and `units`: server and page by one command, or as services."""

from importlib.resources import files
from pathlib import Path
from typing import Annotated

import typer

from assistant.base.errors import WrongUse
from assistant.commands.options import EarsName
from assistant.commands.screen import PORT, screen
from assistant.keep.own_server import own_server


def serve(
    folder: Annotated[Path, typer.Argument(help="Folder of the server; made where missing.")],
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="Port of the page; 0 takes any.")
    ] = PORT,
    lan: Annotated[bool, typer.Option("--lan", help="Let paired devices in too.")] = False,
    tls: Annotated[bool, typer.Option("--tls", help="Encrypt; phones need it to talk.")] = False,
    mute: Annotated[bool, typer.Option("--mute", help="No spoken answers on the page.")] = False,
    ears: EarsName = "auto",
) -> None:
    """Start a PostgreSQL server of our own in a folder, and the kitchen page on it.

    Its log is archived in FOLDER/backups, which `panside store backup` and `drill` take too.
    """
    with own_server(folder) as (owner, kitchen):
        typer.echo(f"The larder is {kitchen}")
        typer.echo(f"Its owner's address, for backups only: {owner}")
        screen(port=port, lan=lan, tls=tls, mute=mute, ears=ears, store=kitchen)


def units(
    folder: Annotated[Path, typer.Argument(help="Folder to write them into; made.")],
) -> None:
    """Write systemd units and a compose file for kitchens and server, to be looked through."""
    kept = files("assistant").joinpath("units")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for unit in sorted(kept.iterdir(), key=lambda one: one.name):
            with (folder / unit.name).open("x", encoding="utf-8") as opened:
                opened.write(unit.read_text("utf-8"))
            typer.echo(folder / unit.name)
    except FileExistsError as error:
        raise WrongUse(f"{error.filename} is there already; give another folder.") from error
    except OSError as error:
        raise WrongUse(f"{folder} can't be written ({error.strerror}).") from error
