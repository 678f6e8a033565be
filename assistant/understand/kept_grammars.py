"""Grammar files that were read before, kept in the user's cache: reading them costs 0.2 s anew.

What is kept is named by a digest of the grammars' texts and of the code that reads them, so a
change of either reads them afresh. A cache that can't be read or written is done without.
"""

import hashlib
import json
import os
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

from platformdirs import user_cache_dir

from assistant.understand.jsgf import (
    Alt,
    GrammarFile,
    Node,
    Opt,
    Ref,
    Repeat,
    Rule,
    Seq,
    Tagged,
    Words,
)

Text = tuple[str, str]
"""A grammar's text and its file's name."""


def read_all(texts: Sequence[Text], folder: Path | None = None) -> tuple[GrammarFile, ...]:
    """The grammars, from the cache where they have been read before. BadGrammar as `read`.

    folder : where the cache is; the user's own when left out
    """
    place = (folder or Path(user_cache_dir("panside", appauthor=False))) / f"{_digest(texts)}.json"
    kept = _kept(place)
    if kept is not None:
        return kept
    from assistant.understand.jsgf_reading import read

    found = tuple(read(text, file) for text, file in texts)
    _keep(place, found)
    return found


def _digest(texts: Sequence[Text]) -> str:
    code = [files(__package__).joinpath(n).read_text("utf-8") for n in _READ_BY]
    whole = json.dumps([*code, *texts]).encode("utf-8")
    return f"grammars-{hashlib.sha256(whole).hexdigest()[:24]}"


_READ_BY = ("jsgf.py", "jsgf_reading.py", "kept_grammars.py")


def _kept(place: Path) -> tuple[GrammarFile, ...] | None:
    try:
        return tuple(_grammar(row) for row in json.loads(place.read_text("utf-8")))
    except (OSError, ValueError, TypeError, KeyError, IndexError):
        return None


def _keep(place: Path, found: tuple[GrammarFile, ...]) -> None:
    part = place.with_suffix(f".{os.getpid()}")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps([_rows_of(grammar) for grammar in found]), "utf-8")
        part.replace(place)
    except OSError:
        return  # a read-only or full disk: the next start reads them again


def _rows_of(grammar: GrammarFile) -> list[Any]:
    rules = [
        [r.name, _row(r.node), r.public, r.line, list(r.examples), list(r.when)]
        for r in grammar.rules
    ]
    return [grammar.name, grammar.file, [list(i) for i in grammar.imports], rules]


def _grammar(row: list[Any]) -> GrammarFile:
    name, file, imports, rules = row
    made = tuple(
        Rule(rule, _node(node), public, file, line, tuple(examples), tuple(when))
        for rule, node, public, line, examples, when in rules
    )
    return GrammarFile(name, file, tuple((full, line) for full, line in imports), made)


def _row(node: Node) -> list[Any]:
    match node:
        case Words(text):
            return ["w", text]
        case Ref(name, line):
            return ["r", name, line]
        case Seq(items):
            return ["s", [_row(item) for item in items]]
        case Alt(options, weights):
            return ["a", [_row(option) for option in options], list(weights)]
        case Opt(item):
            return ["o", _row(item)]
        case Repeat(item, least):
            return ["n", _row(item), least]
        case Tagged(item, tag):
            return ["t", _row(item), tag]


def _node(row: list[Any]) -> Node:
    match row:
        case ["w", text]:
            return Words(text)
        case ["r", name, line]:
            return Ref(name, line)
        case ["s", items]:
            return Seq(tuple(map(_node, items)))
        case ["a", options, weights]:
            return Alt(tuple(map(_node, options)), tuple(weights))
        case ["o", item]:
            return Opt(_node(item))
        case ["n", item, least]:
            return Repeat(_node(item), least)
        case ["t", item, tag]:
            return Tagged(_node(item), tag)
        case _:
            raise ValueError("no part of a grammar")
