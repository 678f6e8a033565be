"""Asking a cook for a recipe, and writing its file."""

import re
from pathlib import Path

import typer

from assistant.base.errors import BadRecipe, WrongUse
from assistant.calc.fruits import all_fruits
from assistant.cook.parts import Base
from assistant.facts.allergens import GROUPS
from assistant.recipebook.files import read_recipe, recipe_names
from assistant.recipebook.wishes import Steeped, Wishes, key_of, name_of, written

_BASES: tuple[Base, ...] = ("fruit", "juice", "water")
_AMOUNT = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(g|kg|gram|grams)?\s+(?:of\s+)?(\w.*\S)\s*")


def asked_for() -> Path:
    """The file of the recipe that the cook was asked for, in this folder.

    WrongUse where there is such a file, or a recipe of that name; BadRecipe, and no file, where the
    answers do not make a recipe.
    """
    title = typer.prompt("What is it called").strip()
    name = name_of(title)
    file = Path(f"{name}.toml")
    if file.exists() or name in recipe_names():
        raise WrongUse(f"There is a recipe {name!r} already: call it something else.")
    wishes = _wishes(title)
    low = any(all_fruits()[fruit].acidity_class == "low-acid" for fruit in wishes.fruits)
    file.write_text(written(wishes, low), "utf-8")
    try:
        read_recipe(file)
    except BadRecipe:
        file.unlink()
        raise
    return file


def _wishes(title: str) -> Wishes:
    base = _base()
    return Wishes(
        title=title,
        base=base,
        fruits=_fruits() if base != "water" else (),
        steeped=_steeped(base),
        brix=_number("How sweet in the bottle, in Brix (0 for no sugar)", 60.0, 75.0),
        citric=_number("Citric acid, in grams to the litre", 8.0, 60.0),
        heated=typer.confirm("Is it held hot", default=True),
    )


def _base() -> Base:
    while True:
        said = typer.prompt("What does it start from: fruit, juice or water").strip().lower()
        found = next((base for base in _BASES if base == said), None)
        if found is not None:
            return found
        typer.echo("One of the three: fruit, juice or water.")


def _fruits() -> tuple[str, ...]:
    while True:
        said = typer.prompt("Which fruit; several with commas")
        found = tuple(one.strip().lower().replace(" ", "-") for one in said.split(","))
        strange = [one for one in found if one not in all_fruits()]
        if not strange:
            return found
        typer.echo(f"No figures for {', '.join(strange)}. There are: {', '.join(all_fruits())}.")


def _steeped(base: Base) -> tuple[Steeped, ...]:
    """Answers like "30 g lilac flowers", until one is empty."""
    found: list[Steeped] = []
    of = "a kilo of fruit" if base == "fruit" else f"a litre of {base}"
    while True:
        said = typer.prompt(
            f"What else goes into {of}, such as 30 g lilac flowers; Enter for nothing more",
            default="",
            show_default=False,
        )
        if not said.strip():
            return tuple(found)
        parts = _AMOUNT.fullmatch(said)
        if parts is None or key_of(parts[3]) in {key_of(one.words) for one in found}:
            typer.echo("Grams first, then a name that is new here: 30 g lilac flowers.")
            continue
        grams = float(parts[1].replace(",", ".")) * (1000 if parts[2] == "kg" else 1)
        stays = not typer.confirm("Is it strained out again", default=True)
        found.append(Steeped(parts[3], grams, stays, _allergen(parts[3])))


def _allergen(words: str) -> str:
    known = ("none", "unknown", *GROUPS)
    while True:
        asks = f"Allergens in {words}: none, unknown, or their group"
        said = typer.prompt(asks, default="unknown").strip().lower()
        if said in known:
            return str(said)
        typer.echo(f"One of: {', '.join(known)}.")


def _number(asks: str, usual: float, most: float) -> float:
    while True:
        value = typer.prompt(asks, default=usual, type=float)
        if 0 <= value <= most:
            return float(value)
        typer.echo(f"From 0 to {most:g}.")
