"""Doors only open downwards: who may import whom, read from the imports themselves."""

import ast
import re
import tomllib
from collections import Counter
from pathlib import Path

import pytest

import assistant

PACKAGE = Path(assistant.__file__).parent
MAP = PACKAGE.parent / "DEVELOPERS.md"
MAY = {
    "base": {"base"},
    "facts": {"base", "facts"},
    "gist": {"base", "gist"},
    "answers": {"base", "facts", "gist", "answers"},
    "calc": {"base.errors", "limits", "calc"},
    "limits": {"base.errors", "base.units", "limits"},
    "reckon": {"base.errors", "calc", "limits", "reckon"},
    "cook": {"base", "facts", "calc", "limits", "answers.card", "cook"},
    "hear": {"base", "hear"},
    "understand": {"base", "facts", "hear.heard", "understand"},
    "say": {"base", "facts", "cook.reply", "say"},
    "keep": {"base", "facts", "keep"},
    "larder": {"base", "facts", "calc", "cook", "larder"},
    "recipebook": {"base", "cook", "recipebook"},
    "planning": {"base", "facts", "calc", "cook", "limits", "planning"},
    "report": {"base", "facts", "calc", "cook", "limits", "say", "planning", "report"},
    "label": {"base", "facts", "calc", "cook", "say", "label"},
    "past": {"base", "facts", "cook", "keep", "larder", "report", "past"},
    "turns": {
        *("base", "facts", "gist", "answers", "cook", "hear.heard", "keep", "say"),
        *("understand", "turns"),
    },
    "aloud": {"base", "facts", "cook.reply", "hear", "say", "turns", "understand", "aloud"},
    "screen": {
        *("base", "facts", "recipebook", "turns", "limits", "cook", "hear", "say", "keep"),
        *("larder", "past", "planning", "report", "label", "understand", "aloud.voicing", "screen"),
    },
}


def _imports(file: Path) -> set[str]:
    """What a file imports of ours, without the leading `assistant.`."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names |= (
                {node.module}
                if node.module != "assistant"
                else {f"assistant.{alias.name}" for alias in node.names}
            )
        elif isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
    return {n.removeprefix("assistant.") for n in names if n.startswith("assistant.")}


def _allowed(name: str, may: set[str]) -> bool:
    return any(name == door or name.startswith(f"{door}.") for door in may)


@pytest.mark.parametrize("layer", sorted(MAY))
def test_a_layer_imports_only_what_lies_below(layer: str) -> None:
    files = sorted((PACKAGE / layer).rglob("*.py"))
    assert files
    wrong = [
        f"{file.relative_to(PACKAGE)} imports {name}"
        for file in files
        for name in sorted(_imports(file))
        if not _allowed(name, MAY[layer])
    ]
    assert wrong == []


@pytest.mark.parametrize(
    "layer",
    ["calc", "limits", "cook", "understand", "say", "planning", "report", "label", "larder"],
)
def test_no_layer_looks_at_a_clock_or_at_chance(layer: str) -> None:
    for file in sorted((PACKAGE / layer).rglob("*.py")):
        tree = ast.parse(file.read_text("utf-8"))
        assert not _taken_from(tree) & {"time", "random", "secrets"}, file
        calls = {n.attr for n in ast.walk(tree) if isinstance(n, ast.Attribute)}
        assert not calls & {"now", "today", "utcnow"}, file


def _taken_from(tree: ast.AST) -> set[str]:
    """Modules a file takes something from; the bare type of a passed-in generator is no chance."""
    nodes = list(ast.walk(tree))
    whole = {alias.name for n in nodes if isinstance(n, ast.Import) for alias in n.names}
    parts = {
        n.module or ""
        for n in nodes
        if isinstance(n, ast.ImportFrom) and {a.name for a in n.names} != {"Random"}
    }
    return whole | parts


def test_files_stay_small() -> None:
    long = {
        str(file.relative_to(PACKAGE)): lines
        for file in PACKAGE.rglob("*.py")
        if (lines := len(file.read_text("utf-8").splitlines())) > 400
    }
    assert long == {}


def test_every_module_lies_in_a_room_with_a_rule() -> None:
    assert {p.name for p in PACKAGE.glob("*.py")} == {"__init__.py"}
    rooms = {p.parent.name for p in PACKAGE.glob("*/__init__.py")}
    assert rooms == {*MAY, "commands"}


def test_the_map_for_contributors_equals_the_rules() -> None:
    text = MAP.read_text("utf-8")
    rows = re.findall(r"^\| `assistant/(\w+)` \| [^|]+ \| ([^|]*) \|$", text, re.M)
    drawn = {room: set(re.findall(r"`([\w.]+)`", doors)) for room, doors in rows}
    assert drawn == {**{room: may - {room} for room, may in MAY.items()}, "commands": set()}


def test_no_two_helpers_of_the_tests_share_a_name() -> None:
    """They are imported by their bare names: of two, one would stand for both."""
    settings = tomllib.loads((MAP.parent / "pyproject.toml").read_text("utf-8"))
    folders = settings["tool"]["pytest"]["ini_options"]["pythonpath"]
    found = [f.stem for folder in folders for f in (MAP.parent / folder).glob("*.py")]
    helpers = [n for n in found if not n.startswith(("test_", "conftest", "__"))]
    assert [name for name, times in Counter(helpers).items() if times > 1] == []
