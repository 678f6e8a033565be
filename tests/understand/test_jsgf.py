"""Reading JSGF: the format's parts, and faults named by file and line."""

import pytest

from assistant.base.errors import BadGrammar
from assistant.understand.jsgf import Alt, Opt, Ref, Repeat, Seq, Tagged, Words
from assistant.understand.jsgf_reading import read

HEAD = "#JSGF V1.0 UTF-8 en;\ngrammar a.b;\n"


def node(expansion: str) -> object:
    return read(f"{HEAD}<x> = {expansion};", "x.jsgf").rules[0].node


@pytest.mark.parametrize(
    ("expansion", "expected"),
    [
        ("one", Words("one")),
        ("One", Words("one")),
        ('"p h"', Words("p h")),
        ("what's", Words("what's")),
        ("<y>", Ref("y", 3)),
        ("<NULL>", Ref("NULL", 3)),
        ("a b", Seq((Words("a"), Words("b")))),
        ("a | b", Alt((Words("a"), Words("b")), (1.0, 1.0))),
        ("/3/ a | /0.5/ b", Alt((Words("a"), Words("b")), (3.0, 0.5))),
        ("[a]", Opt(Words("a"))),
        ("a*", Repeat(Words("a"), 0)),
        ("a+", Repeat(Words("a"), 1)),
        ("(a | b)+", Repeat(Alt((Words("a"), Words("b")), (1.0, 1.0)), 1)),
        ("seventy {70}", Tagged(Words("seventy"), "70")),
        ("(a b) {c d}", Tagged(Seq((Words("a"), Words("b"))), "c d")),
        ("a b {c}", Seq((Words("a"), Tagged(Words("b"), "c")))),
        ("a {b} {c}", Tagged(Tagged(Words("a"), "b"), "c")),
        ("[a {b}]", Opt(Tagged(Words("a"), "b"))),
        ("a // b\n c", Seq((Words("a"), Words("c")))),
        ("a /* b */ c", Seq((Words("a"), Words("c")))),
    ],
)
def test_an_expansion_is_read(expansion: str, expected: object) -> None:
    assert node(expansion) == expected


def test_a_file_is_read_whole() -> None:
    grammar = read(
        "#JSGF V1.0 UTF-8 en;\n/** All of it. */\ngrammar panside.a;\n"
        "import <panside.b.*>;\nimport <panside.c.d>;\n\n"
        "<x> = a;\n/** Said often.\n * @example one two\n * @example three\n * @when ph\n */\n"
        "public <y> = <x>;\n",
        "a.jsgf",
    )
    assert grammar.name == "panside.a"
    assert grammar.imports == (("panside.b.*", 4), ("panside.c.d", 5))
    x, y = grammar.rules
    assert (x.name, x.public, x.examples, x.line) == ("x", False, (), 7)
    assert (y.name, y.public, y.file, y.line) == ("y", True, "a.jsgf", 13)
    assert (y.examples, y.when) == (("one two", "three"), ("ph",))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("grammar a;\n<x> = a;", 1),
        ("#JSGF V1.0;\n<x> = a;", 2),
        (HEAD + "<x> = ;", 3),
        (HEAD + "<x> = a;\n<y> a;", 4),
        (HEAD + "<x> = (a;", 3),
        (HEAD + "<x> = a]", 3),
        (HEAD + "<x> = a {b;\n", 3),
        (HEAD + "<x> = a | | b;", 3),
        (HEAD + "<x> = a\n\n<y> = b;", 5),
        (HEAD + "import <a>\n<x> = a;", 4),
    ],
)
def test_a_fault_names_file_and_line(text: str, line: int) -> None:
    with pytest.raises(BadGrammar, match=rf"^odd\.jsgf, line {line}:"):
        read(text, "odd.jsgf")


def test_an_unfinished_file_is_a_fault() -> None:
    with pytest.raises(BadGrammar, match=r"^odd\.jsgf"):
        read(HEAD + "<x> = a", "odd.jsgf")
