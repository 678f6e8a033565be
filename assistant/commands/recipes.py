"""`panside recipes`: list, read, check."""

from collections.abc import Mapping
from pathlib import Path
from string import Formatter
from typing import Annotated

import typer

from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, emit
from assistant.commands.writing import asked_for
from assistant.cook import Recipe
from assistant.cook.kinds import Stage
from assistant.label.preview import preview
from assistant.planning.dry import dry_batch
from assistant.recipebook.files import format_page, load_recipe, read_recipe, recipe_names
from assistant.report.dry import dry_lines, dry_record
from assistant.report.recipe_ld import recipe_ld
from assistant.say.amounts import by_eye


def recipes(
    name: Annotated[str | None, typer.Argument(help="Recipe to show.")] = None,
    verify: Annotated[
        Path | None, typer.Option("--verify", help="Check a recipe file; says line and mend.")
    ] = None,
    new: Annotated[
        bool, typer.Option("--new", help="Ask for a recipe, write its file here and check it.")
    ] = False,
    format_: Annotated[
        bool, typer.Option("--format", help="How a recipe file is written, with an example.")
    ] = False,
    json_ld: Annotated[
        bool, typer.Option("--json-ld", help="The recipe in the vocabulary of schema.org.")
    ] = False,
    json: AsJson = False,
) -> None:
    """List the recipes, show one, or check a recipe file."""
    if json_ld:
        _linked_data(name)
        return
    if format_:
        typer.echo(format_page())
    elif new or verify is not None:
        verify = verify or asked_for()
        _verified(verify, json)
    elif name is not None:
        recipe = load_recipe(name)
        emit(recipe.model_dump(mode="json")) if json else _show(recipe)
    else:
        for each in map(load_recipe, recipe_names()):
            row = {"name": each.name, "title": each.title, "summary": each.summary}
            _tell(row, json, f"{each.name:16} {each.title}. {each.summary}")


def _verified(file: Path, json: bool) -> None:
    """The file is good; and what a dry batch of it comes to, down to its label."""
    good = read_recipe(file)
    batch = dry_batch(good)
    label = preview(batch)
    record = {"file": str(file), "name": good.name, "good": True, "dry": dry_record(batch)}
    rows = [f"{file}: good.", *dry_lines(batch), "  Label", *(f"    {row}" for row in label)]
    _tell({**record, "label": label}, json, "\n".join(rows))


def _linked_data(name: str | None) -> None:
    if name is None:
        raise WrongUse("Which recipe? `panside recipes NAME --json-ld`.")
    emit(recipe_ld(load_recipe(name)))


def _tell(record: Mapping[str, object], json: bool, words: str) -> None:
    emit(dict(record)) if json else typer.echo(words)


def _show(recipe: Recipe) -> None:
    typer.echo(f"{recipe.title} ({recipe.name}): {recipe.summary}")
    typer.echo(f"For {', '.join(recipe.fruits)}; {recipe.acidity}; keep in the {recipe.storage}.")
    targets = recipe.targets
    typer.echo(f"Aims at {targets.brix:g} °Bx and pH {targets.ph_low:g} to {targets.ph_high:g}.")
    for number, stage in enumerate(recipe.stages, 1):
        only = f" (if {stage.when.replace('_', ' ')})" if stage.when else ""
        typer.echo(f"{number:3}. {_readable(stage)}{only}")


def _readable(stage: Stage) -> str:
    """The stage's sentence with its own figures put in and the names of what is worked out."""
    names = (name for _, name, _, _ in Formatter().parse(stage.say) if name)
    own = {name: by_eye(each) for name, each in stage.figures().items() if each.value}
    told = {name: own.get(name, f"[{name.replace('_', ' ')}]") for name in names}
    return stage.say.format(**told)
