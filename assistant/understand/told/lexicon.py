"""The word lists of `words.toml`, `done.toml` and `store.toml`, as patterns over plain words."""

import re
import tomllib
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from typing import Any

_CUT = re.compile(r"[,\n]+")
_NEVER = re.compile(r"(?!)")


@cache
def table(file: str) -> dict[str, Any]:
    """One of the files of word lists."""
    return tomllib.loads(files(__package__).joinpath(file).read_text("utf-8"))


def entries(text: str) -> tuple[str, ...]:
    """The entries of a list, in plain words."""
    return tuple(e for part in _CUT.split(text) if (e := " ".join(part.split())))


@cache
def listed(file: str, *path: str) -> tuple[str, ...]:
    """The entries of the list at a place of a file."""
    found: Any = table(file)
    for name in path:
        found = found[name]
    return entries(found)


@cache
def pattern(file: str, *path: str) -> re.Pattern[str]:
    """A pattern that finds any entry of a list as whole words."""
    return any_of(listed(file, *path))


def any_of(wanted: Iterable[str]) -> re.Pattern[str]:
    """A pattern for any of some phrases, as whole words; a star stands for any ending.

    >>> bool(any_of(["kettle*"]).search("the kettles are on"))
    True
    """
    found = sorted(wanted, key=len, reverse=True)
    if not found:
        return _NEVER
    parts = (re.escape(each).replace(r"\*", r"\w*") for each in found)
    return re.compile(rf"(?<![\w'])(?:{'|'.join(parts)})(?![\w'])")
