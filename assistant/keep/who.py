"""Who works here: names that a cook gives once, for this computer. No passwords, no proof."""

import json
import os
from pathlib import Path

from platformdirs import user_config_dir
from pydantic import ValidationError

from assistant.base.errors import WrongUse
from assistant.facts.events import By

_VARIABLES = {"person": "PANSIDE_PERSON", "kitchen": "PANSIDE_KITCHEN", "device": "PANSIDE_DEVICE"}
_LONGEST = 40


def who_file() -> Path:
    """Where the names are kept."""
    return Path(user_config_dir("panside", appauthor=False)) / "who.json"


def who() -> By | None:
    """The names that were given, those of the environment first; None where there are none."""
    found = _kept().model_copy(
        update={name: said for name, key in _VARIABLES.items() if (said := os.environ.get(key))}
    )
    return found if found.named() else None


def give(person: str | None, kitchen: str | None, device: str | None) -> By:
    """Keep names, "" takes one away, None leaves it; WrongUse when they can't be kept."""
    said = {"person": person, "kitchen": kitchen, "device": device}
    given = {name: " ".join(words.split()) for name, words in said.items() if words is not None}
    for name, words in given.items():
        if len(words) > _LONGEST or not words.isprintable():
            raise WrongUse(f"The {name}'s name may have {_LONGEST} letters, on one line.")
        if words.startswith("-"):
            raise WrongUse(f"{words!r} is an option and no name: say the {name}'s name before it.")
    found = _kept().model_copy(update=given)
    try:
        who_file().parent.mkdir(parents=True, exist_ok=True)
        who_file().write_text(found.model_dump_json() + "\n", "utf-8")
    except OSError as error:
        raise WrongUse(f"{who_file()} can't be written ({error.strerror}).") from error
    return found


def _kept() -> By:
    try:
        return By.model_validate(json.loads(who_file().read_text("utf-8")))
    except (OSError, ValueError, ValidationError):
        return By()
