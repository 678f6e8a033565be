"""Finding, reading and checking recipes, with messages that name the line and the mend."""

import tomllib
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from pydantic import ValidationError

from assistant.base.data import folder
from assistant.base.errors import BadRecipe, WrongUse
from assistant.cook.recipe import Recipe
from assistant.cook.recipe_safety import faults
from assistant.recipebook.complaints import complaints

LARGEST = 200_000
"""A recipe is a few kilobytes; what is larger is something else. [bytes]"""


def recipe_names() -> tuple[str, ...]:
    """The recipes that come along, by name.

    >>> "berry-syrup" in recipe_names()
    True
    """
    found = (p.name for p in folder("recipes").iterdir())
    return tuple(sorted(n.removesuffix(".toml") for n in found if n.endswith(".toml")))


def load_recipe(name: str) -> Recipe:
    """A recipe by its name, or from a file where the name is a path to one.

    WrongUse when there is none of that name; BadRecipe when the file does not hold together.
    """
    if name.endswith(".toml"):
        return read_recipe(Path(name))
    if name not in recipe_names():
        raise WrongUse(f"There is no recipe {name!r}. There are: {', '.join(recipe_names())}.")
    return read_recipe(folder("recipes").joinpath(f"{name}.toml"))


def all_recipes() -> tuple[Recipe, ...]:
    """Every recipe that comes along."""
    return tuple(map(load_recipe, recipe_names()))


def recipe_for(fruit: str) -> Recipe:
    """The recipe for a fruit: of those that name it, the one made for the fewest fruits.

    One that follows a tested process is taken only by its name.

    fruit : its key in the fruit table; WrongUse where no recipe names it

    >>> recipe_for("rhubarb").name, recipe_for("raspberry").name
    ('rhubarb-syrup', 'berry-syrup')
    """
    fits = [r for r in map(load_recipe, recipe_names()) if fruit in r.fruits]
    if not fits:
        raise WrongUse(f"There is no recipe for {fruit}. `panside recipes` lists what there is.")
    return min(fits, key=lambda recipe: (bool(recipe.process), len(recipe.fruits), recipe.name))


def read_recipe(file: Path | Traversable) -> Recipe:
    """The recipe in a file; BadRecipe with the line and the mend otherwise."""
    try:
        with file.open("rb") as opened:
            raw = opened.read(LARGEST + 1)
        text = raw.decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadRecipe(f"{file}: can't be read as text. Is the path right? ({error})") from error
    if len(raw) > LARGEST:
        raise BadRecipe(f"{file}: too large to be a recipe. Is the path right?")
    try:
        recipe = Recipe.model_validate(tomllib.loads(text))
    except RecursionError as error:
        raise BadRecipe(
            f"{file}: nested too deeply to be a recipe. Copy one that works."
        ) from error
    except tomllib.TOMLDecodeError as error:
        raise BadRecipe(f"{file}: not valid TOML: {error}. Mend that line first.") from error
    except ValidationError as error:
        raise BadRecipe("\n".join(complaints(file.name, text, error))) from error
    unsafe = faults(recipe)
    if unsafe:
        raise BadRecipe("\n".join(f"{file.name}: {fault}" for fault in unsafe))
    return recipe


def format_page() -> str:
    """How a recipe file is written, with a worked example."""
    return files(__package__).joinpath("format.md").read_text("utf-8").rstrip()
