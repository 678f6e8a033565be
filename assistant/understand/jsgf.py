"""Reads grammar files in the W3C JSpeech Grammar Format.

Source of the format: "JSpeech Grammar Format", W3C Note, 5 June 2000. Taken: header, grammar name,
imports, documentation comments with `@example`, public rules, alternatives with weights, groups,
optional groups, `*`, `+`, tags, quoted tokens, `<NULL>` and `<VOID>`. One tag of our own: `@when`
says what must be awaited for a rule to be worth offering. One built-in grammar:
`<panside.free.words>` stands for one or more words of any kind (a note's text), as the format
lets an implementation do.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from lark import Lark, Token, Transformer, UnexpectedInput

from assistant.base.errors import BadGrammar

FREE_WORDS = "panside.free.words"

_FORMAT = r"""
start: HEADER DOC? "grammar" NAME ";" (DOC? import_)* rule*
import_: "import" "<" NAME ">" ";"
rule: DOC? [PUBLIC] "<" NAME ">" "=" choice ";"
choice: branch ("|" branch)*
branch: WEIGHT? marked+
marked: repeated TAG*
?repeated: atom | atom "*" -> any_times | atom "+" -> at_least_once
?atom: WORD -> word | QUOTED -> quoted | "<" NAME ">" -> reference
     | "(" choice ")" | "[" choice "]" -> optional
HEADER: /#JSGF[^;]*;/
PUBLIC: "public"
NAME: /\w+(\.\w+)*(\.\*)?/
WEIGHT: /\/[0-9]+(\.[0-9]+)?\//
TAG: /\{[^}]*\}/
QUOTED: /"[^"\n]+"/
WORD: /[^\s;=|*+<>()\[\]{}\/"]+/
DOC.2: /\/\*\*(.|\n)*?\*\//
COMMENT: /\/\/[^\n]*/ | /\/\*(?!\*)(.|\n)*?\*\//
%ignore COMMENT
%ignore /\s+/
"""


@dataclass(frozen=True, slots=True)
class Words:
    """A token: one word, or several in quotes that count as one."""

    text: str


@dataclass(frozen=True, slots=True)
class Ref:
    """A reference to another rule."""

    name: str
    line: int


@dataclass(frozen=True, slots=True)
class Seq:
    """One after the other."""

    items: tuple["Node", ...]


@dataclass(frozen=True, slots=True)
class Alt:
    """One of them; the weights say how likely each is."""

    options: tuple["Node", ...]
    weights: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Opt:
    """It or nothing."""

    item: "Node"


@dataclass(frozen=True, slots=True)
class Repeat:
    """It again and again, at least `least` times (0 or 1)."""

    item: "Node"
    least: int


@dataclass(frozen=True, slots=True)
class Tagged:
    """It, and the value its tag stands for."""

    item: "Node"
    tag: str


Node = Words | Ref | Seq | Alt | Opt | Repeat | Tagged


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: what it is made of, and what its documentation comment says."""

    name: str
    node: Node
    public: bool
    file: str
    line: int
    examples: tuple[str, ...] = ()
    when: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GrammarFile:
    """One file: the grammar's name, what it imports, its rules in order."""

    name: str
    file: str
    imports: tuple[tuple[str, int], ...]
    rules: tuple[Rule, ...]


def children(node: Node) -> tuple[Node, ...]:
    """The parts of a node, in order."""
    match node:
        case Seq(items):
            return items
        case Alt(options):
            return options
        case Opt(item) | Repeat(item) | Tagged(item):
            return (item,)
        case _:
            return ()


def walk(node: Node) -> Iterator[Node]:
    """A node and everything below it."""
    yield node
    for child in children(node):
        yield from walk(child)


def _doc_tags(doc: str, tag: str) -> tuple[str, ...]:
    return tuple(m.strip() for m in re.findall(rf"@{tag}\s+([^\n@*]+)", doc))


def _squeeze(kind: type, parts: list[Any]) -> Any:
    return parts[0] if len(parts) == 1 else kind(tuple(parts))


class _Build(Transformer[Token, GrammarFile]):
    """Lark's tree to our nodes: one small method per rule of the format."""

    def __init__(self, file: str) -> None:
        super().__init__()
        self.file = file

    def word(self, parts: list[Any]) -> Node:
        return Words(str(parts[0]).lower())

    def quoted(self, parts: list[Any]) -> Node:
        return Words(" ".join(str(parts[0])[1:-1].lower().split()))

    def reference(self, parts: list[Any]) -> Node:
        return Ref(str(parts[0]), parts[0].line)

    def optional(self, parts: list[Any]) -> Node:
        return Opt(parts[0])

    def any_times(self, parts: list[Any]) -> Node:
        return Repeat(parts[0], 0)

    def at_least_once(self, parts: list[Any]) -> Node:
        return Repeat(parts[0], 1)

    def marked(self, parts: list[Any]) -> Node:
        node: Node = parts[0]
        for tag in parts[1:]:
            node = Tagged(node, str(tag)[1:-1].strip())
        return node

    def branch(self, parts: list[Any]) -> tuple[float, Node]:
        weight = 1.0
        if isinstance(parts[0], Token):
            weight = float(parts.pop(0).strip("/"))
        return weight, _squeeze(Seq, parts)

    def choice(self, parts: list[Any]) -> Node:
        if len(parts) == 1:
            node: Node = parts[0][1]
            return node
        return Alt(tuple(n for _, n in parts), tuple(w for w, _ in parts))

    def import_(self, parts: list[Any]) -> tuple[str, int]:
        return str(parts[0]), parts[0].line

    def rule(self, parts: list[Any]) -> Rule:
        doc = ""
        if isinstance(parts[0], Token) and parts[0].type == "DOC":
            doc = str(parts.pop(0))
        public, name, node = parts
        return Rule(
            name=str(name),
            node=node,
            public=public is not None,
            file=self.file,
            line=name.line,
            examples=_doc_tags(doc, "example"),
            when=_doc_tags(doc, "when"),
        )

    def start(self, parts: list[Any]) -> GrammarFile:
        name = next(p for p in parts if isinstance(p, Token) and p.type == "NAME")
        return GrammarFile(
            name=str(name),
            file=self.file,
            imports=tuple(p for p in parts if isinstance(p, tuple)),
            rules=tuple(p for p in parts if isinstance(p, Rule)),
        )


@lru_cache(maxsize=1)
def _reader() -> Lark:
    return Lark(_FORMAT, parser="lalr", maybe_placeholders=True)


def read(text: str, file: str) -> GrammarFile:
    """One grammar file's text. Raises BadGrammar with file and line.

    >>> read("#JSGF V1.0; grammar a.b; public <yes> = yes | yep;", "b.jsgf").rules[0].name
    'yes'
    """
    try:
        tree = _reader().parse(text)
    except UnexpectedInput as error:
        line = getattr(error, "line", 0)
        raise BadGrammar(f"{file}, line {line}: can't read this as a JSGF grammar") from error
    return _Build(file).transform(tree)
