"""Every rule has phrases that it takes and near misses that it does not."""

import tomllib
from pathlib import Path
from random import Random
from typing import Any

import pytest
from told import told

from assistant.understand.book import shipped
from assistant.understand.matcher import Matcher
from assistant.understand.parsing import ROOT, parse, parser
from assistant.understand.sayable import sentences
from assistant.understand.words import to_words

FOLDER = Path(__file__).parent / "phrasebook"
BOOK: dict[str, dict[str, Any]] = {}
for _file in sorted(FOLDER.glob("*.toml")):
    BOOK |= tomllib.loads(_file.read_text("utf-8"))
SAYS = [(rule, *pair) for rule, entry in BOOK.items() for pair in entry["says"]]
NEAR = [(rule, phrase) for rule, entry in BOOK.items() for phrase in entry["near"]]
RULES = sorted(shipped().reachable(ROOT))


def unrepaired(phrase: str, rule: str) -> list[str]:
    found = parser().values(tuple(phrase.split()), rule)
    return sorted(told(values) for values, cost in found.items() if cost == 0)


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_stands_in_the_phrasebook(rule: str) -> None:
    assert BOOK[rule]["says"]
    assert BOOK[rule]["near"]


def test_the_phrasebook_names_no_other_rules() -> None:
    assert set(BOOK) == set(RULES)


@pytest.mark.parametrize(("rule", "phrase", "meaning"), SAYS)
def test_a_phrase_comes_to_its_meaning(rule: str, phrase: str, meaning: str) -> None:
    assert unrepaired(phrase, rule) == sorted(meaning.split(" | "))


@pytest.mark.parametrize(("rule", "phrase"), NEAR)
def test_a_near_miss_is_not_taken(rule: str, phrase: str) -> None:
    assert unrepaired(phrase, rule) == []


@pytest.mark.parametrize("rule", RULES)
def test_what_a_rule_generates_it_recognises(rule: str) -> None:
    shape = Matcher(shipped(), lambda _rule, _parts: ())
    random = Random(rule)
    for _ in range(10):
        words = tuple(sentences(rule, random).split())
        edges = parser().lattices.of(words)
        assert shape.match(words, edges, rule).get(()) == 0, words


@pytest.mark.parametrize("rule", RULES)
def test_whatever_a_rule_generates_makes_sense_or_none(rule: str) -> None:
    random = Random(rule)
    for _ in range(20):
        parser().values(tuple(sentences(rule, random).split()), rule)


def test_most_generated_sayings_mean_something() -> None:
    """Some can't ("sixty, not sixty"), as the grammar alone does not know sense."""
    random = Random(7)
    said = [sentences(ROOT, random) for _ in range(300)]
    meant = [text for text in said if parse(tuple(text.split()))]
    assert len(meant) > 0.85 * len(said)


def test_every_example_is_understood_as_it_stands() -> None:
    for rule in shipped().rules.values():
        for example in rule.examples:
            words = to_words(example)
            assert any(p.cost == 0 for p in parse(words)), example
