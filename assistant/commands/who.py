"""`panside who`: the names that this computer's entries are signed with."""

from typing import Annotated

import typer

from assistant.commands.options import AsJson, emit
from assistant.facts.events import By
from assistant.keep import give_names, who_works_here


def who(
    person: Annotated[str | None, typer.Option("--person", help="Who cooks.")] = None,
    kitchen: Annotated[str | None, typer.Option("--kitchen", help="Which kitchen this is.")] = None,
    device: Annotated[str | None, typer.Option("--device", help="Which computer in it.")] = None,
    json: AsJson = False,
) -> None:
    """Say once who works here: batches, reports and other kitchens then tell it."""
    given = any(name is not None for name in (person, kitchen, device))
    found = give_names(person, kitchen, device) if given else who_works_here() or By()
    if json:
        emit(found.model_dump())
        return
    if found.named():
        typer.echo(f"Entries are signed: {found.words}.")
        return
    typer.echo(
        'Nobody has given a name: entries are not signed. `panside who --person Ana --kitchen "the'
        ' tea hut"` signs them from now on.'
    )
