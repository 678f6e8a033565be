"""Joins grammar files into one book and checks that they hang together."""

from functools import cached_property, lru_cache
from importlib.resources.abc import Traversable

from assistant.base.data import folder
from assistant.base.errors import BadGrammar
from assistant.understand.jsgf import (
    FREE_WORDS,
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
    children,
    walk,
)
from assistant.understand.kept_grammars import read_all

ANYTHING = frozenset(("*",))
"""Stands among first tokens for free words."""
_UNKNOWN: frozenset[str] = frozenset(("unknown",))


class Book:
    """Several grammar files, joined: every reference resolved, rule names unique.

    Raises BadGrammar when a rule is defined twice, used without being defined or imported,
    imported without being public, or can start with itself.
    """

    def __init__(self, files: tuple[GrammarFile, ...]) -> None:
        self.rules: dict[str, Rule] = {}
        self._firsts: dict[int, frozenset[str]] = {}
        self._starts: dict[int, frozenset[str] | None] = {}
        for grammar in files:
            for rule in grammar.rules:
                self._add(rule)
        by_name = {grammar.name: grammar for grammar in files}
        for grammar in files:
            _check_references(grammar, by_name)
        self._check_left_recursion()

    def _add(self, rule: Rule) -> None:
        first = self.rules.get(rule.name)
        if first:
            raise BadGrammar(
                f"{rule.file}, line {rule.line}: <{rule.name}> is defined already, "
                f"in {first.file}, line {first.line}"
            )
        self.rules[rule.name] = rule

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every token that some rule holds."""
        nodes = (node for rule in self.rules.values() for node in walk(rule.node))
        return frozenset(node.text for node in nodes if isinstance(node, Words))

    @cached_property
    def nullable(self) -> frozenset[str]:
        """The rules that can match without a single word."""
        empty: set[str] = set()
        while True:
            more = {n for n, r in self.rules.items() if _may_be_empty(r.node, empty)}
            if more == empty:
                return frozenset(empty)
            empty = more

    def _first(self, node: Node) -> frozenset[str]:
        """The tokens a node can start with, ANYTHING among them for free words; each worked out
        once. It comes to an end since no rule starts with itself."""
        found = self._firsts.get(id(node))
        if found is None:
            found = self._firsts[id(node)] = self._first_of(node)
        return found

    def _first_of(self, node: Node) -> frozenset[str]:
        match node:
            case Words(text):
                return frozenset((text,))
            case Ref("words"):
                return ANYTHING
            case Ref(name):
                return self._first(self.rules[name].node) if name in self.rules else frozenset()
            case Seq(items):
                return frozenset().union(*map(self._first, self._that_may_start(items)))
            case _:
                return frozenset().union(*map(self._first, children(node)))

    def _that_may_start(self, items: tuple[Node, ...]) -> tuple[Node, ...]:
        """A sequence's items to the first that can't be empty."""
        full = (at for at, item in enumerate(items, 1) if not _may_be_empty(item, self.nullable))
        return items[: next(full, len(items))]

    def starts(self, node: Node) -> frozenset[str] | None:
        """The tokens a node can start with; None where it may start with anything or nothing."""
        known = self._starts.get(id(node), _UNKNOWN)
        if known is not _UNKNOWN:
            return known
        found = None if _may_be_empty(node, self.nullable) else self._first(node)
        if found is not None and found & ANYTHING:
            found = None
        self._starts[id(node)] = found
        return found

    def reachable(self, name: str) -> frozenset[str]:
        """The rule and all rules it leads to."""
        seen, todo = set[str](), [name]
        while todo:
            rule = self.rules.get(todo.pop())
            if rule and rule.name not in seen:
                seen.add(rule.name)
                todo += [n.name for n in walk(rule.node) if isinstance(n, Ref)]
        return frozenset(seen)

    def _check_left_recursion(self) -> None:
        firsts = {n: _first_refs(r.node, self.nullable) for n, r in self.rules.items()}
        for name, rule in self.rules.items():
            seen, todo = set[str](), list(firsts[name])
            while todo:
                other = todo.pop()
                if other == name:
                    raise BadGrammar(f"{rule.file}, line {rule.line}: <{name}> starts with itself")
                if other not in seen:
                    seen.add(other)
                    todo += firsts.get(other, ())


def _may_be_empty(node: Node, empty: set[str] | frozenset[str]) -> bool:
    match node:
        case Words():
            return False
        case Ref(name):
            return name == "NULL" or name in empty
        case Seq(items):
            return all(_may_be_empty(item, empty) for item in items)
        case Alt(options):
            return any(_may_be_empty(option, empty) for option in options)
        case Repeat(item, least):
            return least == 0 or _may_be_empty(item, empty)
        case Tagged(item):
            return _may_be_empty(item, empty)
        case Opt():
            return True


def _first_refs(node: Node, nullable: frozenset[str]) -> frozenset[str]:
    match node:
        case Ref(name):
            return frozenset((name,))
        case Seq(items):
            found: frozenset[str] = frozenset()
            for item in items:
                found |= _first_refs(item, nullable)
                if not _may_be_empty(item, nullable):
                    break
            return found
        case _:
            return frozenset().union(*(_first_refs(c, nullable) for c in children(node)))


def _visible(grammar: GrammarFile, by_name: dict[str, GrammarFile]) -> frozenset[str]:
    names = {rule.name for rule in grammar.rules} | {"NULL", "VOID"}
    for full, line in grammar.imports:
        if full == FREE_WORDS:
            names.add("words")
            continue
        home, _, wanted = full.rpartition(".")
        if home not in by_name:
            raise BadGrammar(f"{grammar.file}, line {line}: there is no grammar {home}")
        public = {rule.name for rule in by_name[home].rules if rule.public}
        if wanted != "*" and wanted not in public:
            raise BadGrammar(f"{grammar.file}, line {line}: {home} has no public <{wanted}>")
        names |= public if wanted == "*" else {wanted}
    return frozenset(names)


def _check_references(grammar: GrammarFile, by_name: dict[str, GrammarFile]) -> None:
    visible = _visible(grammar, by_name)
    for rule in grammar.rules:
        for node in walk(rule.node):
            if isinstance(node, Ref) and node.name not in visible:
                raise BadGrammar(
                    f"{grammar.file}, line {node.line}: <{node.name}> is neither defined here "
                    "nor a public rule of an imported grammar"
                )


def load(place: Traversable) -> Book:
    """All `*.jsgf` files of a folder as one book. Raises BadGrammar."""
    files = sorted((f for f in place.iterdir() if f.name.endswith(".jsgf")), key=lambda f: f.name)
    return Book(read_all([(f.read_text(encoding="utf-8"), f.name) for f in files]))


@lru_cache(maxsize=1)
def shipped() -> Book:
    """The grammars that come with Panside."""
    return load(folder("grammars"))
