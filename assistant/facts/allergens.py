"""The groups of allergens that a label must name, with the law that names them."""

import tomllib
from collections.abc import Mapping
from importlib.resources import files
from types import MappingProxyType
from typing import Literal

from pydantic import BaseModel, ConfigDict

Allergen = Literal[
    "gluten", "crustaceans", "eggs", "fish", "peanuts", "soya", "milk", "nuts", "celery",
    "mustard", "sesame", "sulphites", "lupin", "molluscs",
]  # fmt: skip


class Group(BaseModel):
    """A group; `allergens.toml` explains each key."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    words: str
    eu: bool
    us: bool
    note: str = ""


def _groups() -> dict[str, Group]:
    text = files(__package__).joinpath("allergens.toml").read_text("utf-8")
    return {key: Group.model_validate(row) for key, row in tomllib.loads(text)["group"].items()}


GROUPS: Mapping[str, Group] = MappingProxyType(_groups())
"""Every group by its key."""
EU = tuple(key for key, row in GROUPS.items() if row.eu)
"""The fourteen of Regulation (EU) No 1169/2011, Annex II."""
US = tuple(key for key, row in GROUPS.items() if row.us)
"""The nine major food allergens of 21 U.S.C. 321(qq)."""
