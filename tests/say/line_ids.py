"""Which line ids a program uses, read from its source: `Line(id=...)` followed to the words.

An id may be a literal, an f-string, a choice between them, a name that stands for one of these, a
table's value, or a parameter; a parameter is followed to the calls. Anything else is a problem,
reported and not skipped.
"""

import ast
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Use:
    """One id used: where, as a pattern, and the facts given (None when they can't be read)."""

    where: str
    pattern: str
    facts: frozenset[str] | None

    def fits(self, line_id: str) -> bool:
        return re.fullmatch(self.pattern, line_id) is not None

    def means(self, line_id: str) -> bool:
        """Whether this is the very id, named in full."""
        return self.pattern == re.escape(line_id)


@dataclass(frozen=True)
class _Place:
    """An expression with the file and the functions around it, the innermost last."""

    node: ast.expr
    file: str
    around: tuple[Function, ...]

    @property
    def where(self) -> str:
        return f"{self.file}:{self.node.lineno}"

    def at(self, node: ast.expr) -> "_Place":
        return _Place(node, self.file, self.around)


class Scan:
    """All uses in some files. `problems` are ids that can't be told from the source.

    sources : file name -> Python source
    """

    def __init__(self, sources: Mapping[str, str]) -> None:
        self._trees = {name: ast.parse(text) for name, text in sources.items()}
        self._calls = [
            (call, place)
            for file, tree in self._trees.items()
            for call, place in _calls(tree, file, ())
        ]
        self.problems: list[str] = []
        self.uses: list[Use] = [
            Use(place.where, pattern, _facts(call))
            for call, place in self._calls
            if _name(call) == "Line" and not _brings_words(call)
            for pattern in self._id(call, place)
        ]

    def strings(self) -> set[str]:
        """Every string literal in the sources."""
        nodes = (node for tree in self._trees.values() for node in ast.walk(tree))
        return {n.value for n in nodes if isinstance(n, ast.Constant) and isinstance(n.value, str)}

    def _id(self, call: ast.Call, place: _Place) -> list[str]:
        given = next((k.value for k in call.keywords if k.arg == "id"), None)
        if given is None:
            return self._problem(place)
        return self._patterns(place.at(given), ())

    def _patterns(self, place: _Place, seen: tuple[str, ...]) -> list[str]:
        match place.node:
            case ast.Constant(value=str(text)):
                return [re.escape(text)]
            case ast.JoinedStr(values=values):
                return ["".join(_piece(value) for value in values)]
            case ast.IfExp(body=body, orelse=orelse):
                return self._all(place, [body, orelse], seen)
            case ast.BoolOp(values=values):
                return self._all(place, values, seen)
            case ast.Dict(values=values):
                return self._all(place, values, seen)
            case ast.Subscript(value=table):
                return self._patterns(place.at(table), seen)
            case ast.Name(id=name):
                return self._named(place, name, seen)
        return self._problem(place)

    def _all(self, place: _Place, nodes: list[ast.expr], seen: tuple[str, ...]) -> list[str]:
        return [p for node in nodes for p in self._patterns(place.at(node), seen)]

    def _named(self, place: _Place, name: str, seen: tuple[str, ...]) -> list[str]:
        for function in reversed(place.around):
            if values := list(_assigned(function.body, name)):
                return self._all(place, values, seen)
            if name in (found := _parameters(function)):
                if function.name in seen:
                    return []
                return self._passed(place, function, found.index(name), name, seen)
        values = list(_assigned(self._trees[place.file].body, name))
        return self._all(place, values, seen) if values else self._problem(place)

    def _passed(
        self, place: _Place, function: Function, index: int, name: str, seen: tuple[str, ...]
    ) -> list[str]:
        """The ids that the calls of a function give to one of its parameters."""
        found: list[str] = []
        for call, there in self._calls:
            if _name(call) != function.name:
                continue
            given = next((k.value for k in call.keywords if k.arg == name), None)
            if given is None and index < len(call.args):
                given = call.args[index]
            if given is not None:
                found += self._patterns(there.at(given), (*seen, function.name))
        return found or self._problem(place)

    def _problem(self, place: _Place) -> list[str]:
        self.problems.append(f"{place.where}: the id {ast.unparse(place.node)} can't be followed")
        return []


def _calls(
    node: ast.AST, file: str, around: tuple[Function, ...]
) -> Iterator[tuple[ast.Call, _Place]]:
    for child in ast.iter_child_nodes(node):
        inside = (*around, child) if isinstance(child, Function) else around
        if isinstance(child, ast.Call):
            yield child, _Place(child, file, around)
        yield from _calls(child, file, inside)


def _name(call: ast.Call) -> str:
    match call.func:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
    return ""


def _brings_words(call: ast.Call) -> bool:
    given = next((k.value for k in call.keywords if k.arg == "text"), None)
    return given is not None and not (isinstance(given, ast.Constant) and given.value is None)


def _facts(call: ast.Call) -> frozenset[str] | None:
    """The names of the facts, where they stand in the call as a literal table."""
    given = next((k.value for k in call.keywords if k.arg == "facts"), None)
    if given is None:
        return frozenset() if all(k.arg for k in call.keywords) else None
    if not isinstance(given, ast.Dict):
        return None
    keys = [k.value if isinstance(k, ast.Constant) else None for k in given.keys]
    return None if None in keys else frozenset(str(k) for k in keys)


def _piece(value: ast.expr) -> str:
    return re.escape(value.value) if isinstance(value, ast.Constant) else r"\w+"


def _parameters(function: Function) -> list[str]:
    arguments = function.args
    every = [*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs]
    return [a.arg for a in every]


def _assigned(body: list[ast.stmt], name: str) -> Iterator[ast.expr]:
    for statement in body:
        for node in ast.walk(statement):
            match node:
                case ast.Assign(targets=targets, value=value):
                    if any(isinstance(t, ast.Name) and t.id == name for t in targets):
                        yield value
                case ast.AnnAssign(target=ast.Name(id=found), value=ast.expr() as value):
                    if found == name:
                        yield value
