"""What is wrong with a recipe file, in a cook's words: line, key, fault and mend."""

import re
from difflib import get_close_matches
from functools import cache
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from assistant.cook.ingredient import Ingredient
from assistant.cook.kinds import AnyStage
from assistant.cook.parts import AnyJuice, AnyRule, Targets, tags
from assistant.cook.recipe import Recipe

_TAGS = {*tags(AnyStage, "kind"), *tags(AnyJuice, "kind"), *tags(AnyRule, "rule")}
_SAYS: dict[str, str] = {
    "missing": "is missing",
    "extra_forbidden": "is no key that belongs here",
    "less_than": "must be less than {lt:g}",
    "less_than_equal": "must be {le:g} or less",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be {ge:g} or more",
    "float_parsing": "must be a number, without quotes",
    "float_type": "must be a number, without quotes",
    "int_type": "must be a whole number, without quotes",
    "string_type": 'must be words in quotes, "like this"',
    "string_too_short": "must not be empty",
    "string_too_long": "is too long: {max_length} letters at most",
    "string_pattern_mismatch": "may hold small letters, figures, - and _ only, a letter first",
    "bool_type": "must be true or false, without quotes",
    "bool_parsing": "must be true or false, without quotes",
    "literal_error": "must be one of {expected}",
    "tuple_type": 'must be a list in brackets: ["one", "two"]',
    "dict_type": "must be a table with keys of its own",
    "union_tag_invalid": "is none that there is: take one of {expected_tags}",
    "union_tag_not_found": "lacks its {discriminator}: say which it is",
    "too_short": "needs {min_length} at least",
}
"""What pydantic calls a fault, as a cook would be told; a braced name is one of its figures."""
_MENDS = {
    "missing": "Add this key.",
    "extra_forbidden": "Take this key out, or check its spelling.",
    "union_tag_invalid": "Use one of the kinds named.",
    "union_tag_not_found": "Say which kind or rule it is.",
}


def complaints(file: str, text: str, error: ValidationError) -> list[str]:
    """One line for each fault: file, line, key, what is wrong, what to do."""
    said = []
    for fault in error.errors():
        path = [p for p in fault["loc"] if p not in _TAGS]
        where = ".".join(str(p) for p in path) or "the recipe"
        line = _line_of(text, path)
        told = f"{file}, line {line}: {where}{_fault(fault)}. {_mend(fault['type'], path)}"
        said.append(told)
    return said


def _fault(fault: ErrorDetails) -> str:
    """What is wrong; what the recipe says of itself is a sentence of its own."""
    says = _SAYS.get(fault["type"])
    if says is None:
        return f": {fault['msg'].removeprefix('Value error, ')}"
    return " " + says.format(**fault.get("ctx", {}))


def _mend(fault: str, path: list[int | str]) -> str:
    if fault == "extra_forbidden" and isinstance(path[-1], str):
        near = get_close_matches(path[-1], _keys(), 1)
        if near:
            return f"Did you mean {near[0]!r}?"
    return _MENDS.get(fault, "Change the value.")


@cache
def _keys() -> tuple[str, ...]:
    """Every key that a recipe may have anywhere."""
    parts: list[type[BaseModel]] = [Recipe, Ingredient, Targets]
    for union in (AnyStage, AnyJuice, AnyRule):
        members: tuple[Any, ...] = get_args(union)
        parts += [part for part in members if isinstance(part, type)]
    return tuple(dict.fromkeys(key for part in parts for key in part.model_fields))


def _line_of(text: str, path: list[int | str]) -> int:
    """The line a fault is on: its table's heading, or its key below that where it stands."""
    lines = text.splitlines()
    start = 0
    for part in path:
        found = _find(lines, start, part, path)
        start = start if found is None else found
    return start + 1


def _find(lines: list[str], start: int, part: int | str, path: list[int | str]) -> int | None:
    if isinstance(part, int):
        heads = [i for i, line in enumerate(lines) if line.strip() == f"[[{path[0]}]]"]
        return heads[part] if part < len(heads) else None
    pattern = re.compile(rf"^\s*(\[+[\w.-]*\b{re.escape(part)}\]+|{re.escape(part)}\s*=)")
    return next((i for i in range(start, len(lines)) if pattern.match(lines[i])), None)
