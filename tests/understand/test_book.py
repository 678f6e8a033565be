"""Several grammars joined: references, imports, names, loops."""

from pathlib import Path

import pytest

from assistant.base.errors import BadGrammar
from assistant.understand.book import Book, load, shipped
from assistant.understand.jsgf import GrammarFile, Words
from assistant.understand.jsgf_reading import read


def file(name: str, body: str) -> GrammarFile:
    return read(f"#JSGF V1.0;\ngrammar panside.{name};\n{body}", f"{name}.jsgf")


def test_public_rules_of_an_imported_grammar_are_seen() -> None:
    book = Book((file("a", "import <panside.b.*>;\n<x> = <y>;"), file("b", "public <y> = go;")))
    assert set(book.rules) == {"x", "y"}


@pytest.mark.parametrize(
    ("a", "fault"),
    [
        ("<x> = <y>;", r"a\.jsgf, line 3: <y> is neither defined here nor"),
        ("import <panside.b.*>;\n<x> = <hidden>;", r"a\.jsgf, line 4: <hidden> is neither"),
        ("import <panside.b.hidden>;\n<x> = a;", r"a\.jsgf, line 3: panside\.b has no public"),
        ("import <panside.c.*>;\n<x> = a;", r"a\.jsgf, line 3: there is no grammar panside\.c"),
        ("<x> = a;\n<y> = b;", r"b\.jsgf, line 3: <y> is defined already, in a\.jsgf, line 4"),
        ("<x> = <x> a;", r"a\.jsgf, line 3: <x> starts with itself"),
        ("<x> = [b] <z>;\n<z> = c* <x>;", r"line 3: <x> starts with itself"),
        ("<x> = <words>;", r"a\.jsgf, line 3: <words> is neither"),
    ],
)
def test_a_book_that_does_not_hang_together_is_refused(a: str, fault: str) -> None:
    with pytest.raises(BadGrammar, match=fault):
        Book((file("a", a), file("b", "public <y> = go;\n<hidden> = a;")))


def test_a_rule_may_come_back_to_itself_later() -> None:
    assert Book((file("a", "<x> = a [<x>];"),)).rules


def test_free_words_must_be_imported() -> None:
    book = Book((file("a", "import <panside.free.words>;\n<x> = note <words>;"),))
    assert book.starts(book.rules["x"].node) == {"note"}


@pytest.mark.parametrize(
    ("expansion", "starts"),
    [
        ("a b", {"a"}),
        ("[a] b", {"a", "b"}),
        ("a | <y>", {"a", "c", "d"}),
        ("b* <y>", {"b", "c", "d"}),
        ("<words> a", None),
        ("[a]", None),
        ("<VOID>", set()),
        ("<NULL> a", {"a"}),
    ],
)
def test_what_a_rule_starts_with(expansion: str, starts: set[str] | None) -> None:
    body = f"import <panside.free.words>;\n<x> = {expansion};\n<y> = (c | d) {{1}};"
    book = Book((file("a", body),))
    assert book.starts(book.rules["x"].node) == starts


def test_a_rule_leads_to_others() -> None:
    book = Book((file("a", "<x> = a <y>;\n<y> = b [<z>];\n<z> = c;\n<w> = <x>;"),))
    assert book.reachable("x") == {"x", "y", "z"}


def test_a_folder_is_loaded(tmp_path: Path) -> None:
    tmp_path.joinpath("a.jsgf").write_text("#JSGF V1.0;\ngrammar a;\n<x> = go;", "utf-8")
    tmp_path.joinpath("notes.txt").write_text("not a grammar", "utf-8")
    assert load(tmp_path).rules["x"].node == Words("go")


def test_every_shipped_rule_is_used() -> None:
    book = shipped()
    assert set(book.rules) - book.reachable("saying") == {"misheard_word"}
