"""Notes the digest of every recipe that comes along: python -m tests.shipped_recipes

The digests of earlier versions stay, since batches made by them lie in journals.
"""

import json
from pathlib import Path

import assistant
from assistant.cook.shipped import digest, known
from assistant.recipebook.files import load_recipe, recipe_names

TABLE = Path(assistant.__file__).parent / "cook" / "shipped.toml"
HEAD = """# Digests of the recipes that came along, every version of each. To add those of today:
# `python -m tests.shipped_recipes`. See `shipped.py`.

[digests]
"""


def noted(before: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """The digests noted before, with those of today's recipes."""
    found = dict(before)
    for name in recipe_names():
        found[name] = tuple(dict.fromkeys((*found.get(name, ()), digest(load_recipe(name)))))
    return found


def lines(digests: dict[str, tuple[str, ...]]) -> str:
    """The table as a file."""
    rows = (f"{name} = {json.dumps(list(versions))}" for name, versions in sorted(digests.items()))
    return HEAD + "\n".join(rows) + "\n"


if __name__ == "__main__":
    TABLE.write_text(lines(noted(known())), "utf-8")
