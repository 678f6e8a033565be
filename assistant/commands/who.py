"""`panside who`: the names that entries are signed with here, and what the bottles here hold."""

from typing import Annotated

import typer

from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, emit
from assistant.facts.events import By
from assistant.keep import give_names, kitchen_bottles, name_bottles, who_works_here


def who(
    person: Annotated[str | None, typer.Option("--person", help="Who cooks.")] = None,
    kitchen: Annotated[str | None, typer.Option("--kitchen", help="Which kitchen this is.")] = None,
    device: Annotated[str | None, typer.Option("--device", help="Which computer in it.")] = None,
    bottle: Annotated[
        list[str] | None,
        typer.Option("--bottle", metavar="WORD=ML", help="What small, medium or large holds."),
    ] = None,
    json: AsJson = False,
) -> None:
    """Say once who works here: batches, reports and other kitchens then tell it."""
    given = any(name is not None for name in (person, kitchen, device))
    found = give_names(person, kitchen, device) if given else who_works_here() or By()
    sizes = name_bottles(dict(map(_named, bottle))) if bottle else kitchen_bottles()
    if json:
        emit({**found.model_dump(), "bottles": sizes})
        return
    if sizes:
        told = ", ".join(f"{word} {ml:g} ml" for word, ml in sizes.items())
        typer.echo(f"Bottles here: {told}.")
    if found.named():
        typer.echo(f"Entries are signed: {found.words}.")
        return
    typer.echo(
        'Nobody has given a name: entries are not signed. `panside who --person Ana --kitchen "the'
        ' tea hut"` signs them from now on.'
    )


def _named(said: str) -> tuple[str, float]:
    """ "small=250" in two."""
    word, _, size = said.partition("=")
    try:
        return word.strip().lower(), float(size)
    except ValueError as error:
        raise WrongUse(f"{said!r}: say it as small=250, in millilitres.") from error
