"""Which recipes came along: by digest, so that one that was changed is called so."""

import json
import tomllib
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from assistant.cook.recipe import Recipe

Standing = Literal["shipped", "edited", "own"]


def digest(recipe: "Recipe") -> str:
    """A recipe's content in 16 figures, whatever the order and the notes of its file.

    What it leaves to a default does not count, so that a new kind of key changes no digest.
    """
    body = recipe.model_dump(mode="json", exclude_defaults=True)
    return sha256(json.dumps(body, sort_keys=True).encode()).hexdigest()[:16]


@cache
def known() -> dict[str, tuple[str, ...]]:
    """Every recipe that came along, by name, with the digests of all its versions."""
    text = files(__package__).joinpath("shipped.toml").read_text("utf-8")
    return {name: tuple(rows) for name, rows in tomllib.loads(text)["digests"].items()}


def standing(recipe: "Recipe") -> Standing:
    """Whether a recipe came along as it is, was edited under a known name, or is the cook's own."""
    versions = known().get(recipe.name)
    if versions is None:
        return "own"
    return "shipped" if digest(recipe) in versions else "edited"
