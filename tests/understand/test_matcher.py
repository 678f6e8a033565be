"""Matching: readings are packed by meaning, costs are the least, shapes are JSGF's."""

from fractions import Fraction
from typing import Any

import pytest

from assistant.understand.book import Book
from assistant.understand.jsgf_reading import read
from assistant.understand.lattice import Lattices
from assistant.understand.matcher import Matcher, tag_value


def match(body: str, said: str) -> dict[tuple[Any, ...], int]:
    text = f"#JSGF V1.0;\ngrammar a;\nimport <panside.free.words>;\n{body}"
    book = Book((read(text, "a.jsgf"),))
    words = tuple(said.split())
    edges = Lattices(book, root="x").of(words)
    return Matcher(book, lambda _rule, parts: parts).match(words, edges, "x")


@pytest.mark.parametrize(
    ("expansion", "said", "values"),
    [
        ("a {1} b {2}", "a b", {(1, 2)}),
        ("a {1} | a {2}", "a", {(1,), (2,)}),
        ("a {1} | b {1} | a {1}", "a", {(1,)}),
        ("[a {1}] b {2}", "b", {(2,)}),
        ("[a {1}] b {2}", "a b", {(1, 2)}),
        ("(a {1})*", "a a a", {(1, 1, 1)}),
        ("b (a {1})*", "b", {()}),
        ("(a {1})+", "a a", {(1, 1)}),
        ("([a] {1})*", "a a", {(1, 1)}),
        ("([a] {1})+ b", "b", {(1,)}),
        ("<y> <y>", "a b", {(1, 2)}),
        ("a <words>", "a lot more", {("lot more",)}),
        ("<words> b", "a b b", {("a b",)}),
        ('"p h" {ph}', "p h", {("ph",)}),
        ("a <NULL> b", "a b", {()}),
    ],
)
def test_a_match_has_its_values(expansion: str, said: str, values: set[tuple[Any, ...]]) -> None:
    found = match(f"<x> = {expansion};\n<y> = a {{1}} | b {{2}};", said)
    assert values <= set(found)
    assert set(found.values()) == {0}


@pytest.mark.parametrize(
    ("expansion", "said"),
    [
        ("a b", "a"),
        ("a b", "b a"),
        ("a b", "a b c"),
        ("(a)+", "b"),
        ("<VOID> | b", "a"),
        ("a <words>", "a"),
        ('"p h"', "ph"),
    ],
)
def test_the_whole_of_the_words_must_match(expansion: str, said: str) -> None:
    assert match(f"<x> = {expansion};", said) == {}


def test_many_ways_to_one_meaning_stay_one() -> None:
    body = "<x> = <y>*;\n<y> = a | [a] a | a [a] | (a | a);"
    assert match(body, " ".join("a" * 20)) == {(): 0}


def test_a_rule_that_makes_no_sense_is_dropped() -> None:
    book = Book((read("#JSGF V1.0;\ngrammar a;\n<x> = a <y>;\n<y> = b;", "a.jsgf"),))
    edges = Lattices(book, root="x").of(("a", "b"))
    picky = Matcher(book, lambda rule, parts: None if rule == "y" else parts)
    assert picky.match(("a", "b"), edges, "x") == {}


@pytest.mark.parametrize(
    ("tag", "value"),
    [("70", Fraction(70)), ("3/4", Fraction(3, 4)), ("-1", Fraction(-1)), ("kg", "kg"), (".", ".")],
)
def test_a_tag_is_a_figure_or_a_name(tag: str, value: object) -> None:
    assert tag_value(tag) == value
