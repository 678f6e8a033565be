"""What stands in grammar files in the W3C JSpeech Grammar Format, as values.

Source of the format: "JSpeech Grammar Format", W3C Note, 5 June 2000. Taken: header, grammar name,
imports, documentation comments with `@example`, public rules, alternatives with weights, groups,
optional groups, `*`, `+`, tags, quoted tokens, `<NULL>` and `<VOID>`. One tag of our own: `@when`
says what must be awaited for a rule to be worth offering. One built-in grammar:
`<panside.free.words>` stands for one or more words of any kind (a note's text), as the format
lets an implementation do.
"""

from collections.abc import Iterator
from dataclasses import dataclass

FREE_WORDS = "panside.free.words"


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
