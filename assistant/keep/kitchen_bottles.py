"""What this kitchen calls its bottles: "small" holds so much. Said once, for this computer."""

import json
from collections.abc import Mapping
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from assistant.base.errors import WrongUse
from assistant.keep.who import who_file

LEAST_ML, MOST_ML = 20.0, 10_000.0
"""What people fill a syrup into (common practice, no source). [ml]"""
WORDS = ("small", "medium", "large")
_sizes = TypeAdapter(dict[str, float])


def bottles_file() -> Path:
    """Where they are kept."""
    return who_file().with_name("bottles.json")


def kitchen_bottles() -> dict[str, float]:
    """The words with their sizes; {} where none were said. [ml]"""
    try:
        return _sizes.validate_json(bottles_file().read_bytes())
    except (OSError, ValidationError):
        return {}


def name_bottles(named: Mapping[str, float]) -> dict[str, float]:
    """Keep words for sizes, 0 takes one away; all that are kept now. [ml]

    WrongUse for a word or a size that no kitchen has, and where they can't be kept.
    """
    for word, size_ml in named.items():
        if word not in WORDS:
            raise WrongUse(f"A bottle is called {', '.join(WORDS[:-1])} or {WORDS[-1]}.")
        if size_ml and not LEAST_ML <= size_ml <= MOST_ML:
            raise WrongUse(f"A bottle holds {LEAST_ML:g} to {MOST_ML:g} ml.")
    found = {word: ml for word, ml in {**kitchen_bottles(), **named}.items() if ml}
    try:
        bottles_file().parent.mkdir(parents=True, exist_ok=True)
        bottles_file().write_text(json.dumps(found) + "\n", "utf-8")
    except OSError as error:
        raise WrongUse(f"{bottles_file()} can't be written ({error.strerror}).") from error
    return found
