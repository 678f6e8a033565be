"""Reads grammar files, where the kept ones don't do: lark's tree becomes our nodes."""

import re
from functools import lru_cache
from typing import Any

from lark import Lark, Token, Transformer, UnexpectedInput

from assistant.base.errors import BadGrammar
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
