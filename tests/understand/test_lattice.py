"""What a heard word may stand for, and what that costs."""

import pytest

from assistant.understand.lattice import (
    NUMBER_REPAIR,
    WORD_REPAIR,
    repaired_numbers,
    repaired_words,
)
from assistant.understand.parsing import parse, parser

LATTICES = parser().lattices


def meant(said: str) -> dict[str, int]:
    """Tokens that lead from the first word to the last."""
    words = tuple(said.split())
    edges = LATTICES.of(words)[0]
    return {token: cost for token, ends in edges.items() for end, cost in ends if end == len(words)}


@pytest.mark.parametrize("word", ["seventy", "kilos", "p h", "what's"])
def test_a_word_stands_for_itself(word: str) -> None:
    assert meant(word)[word] == 0


@pytest.mark.parametrize(
    ("said", "token"),
    [
        ("killos", "kilos"),
        ("grahams", "grams"),
        ("leaders", "litres"),
        ("bricks", "brix"),
        ("degree's", "degrees"),
        ("peach", "p h"),
        ("pea age", "p h"),
        ("tea spoons", "teaspoons"),
        ("sore bait", "sorbate"),
        ("battles", "bottles"),
    ],
)
def test_a_known_mishearing_stands_for_a_word(said: str, token: str) -> None:
    assert meant(said)[token] == WORD_REPAIR


@pytest.mark.parametrize(
    ("said", "token"),
    [("to", "two"), ("too", "two"), ("for", "four"), ("ate", "eight"), ("won", "one"),
     ("tree", "three"), ("o", "oh"), ("pine", "point"), ("fourty", "forty")],
)  # fmt: skip
def test_a_number_heard_as_a_word_costs_a_number(said: str, token: str) -> None:
    assert meant(said)[token] == NUMBER_REPAIR


@pytest.mark.parametrize(
    ("said", "token", "cost"),
    [
        ("temprature", "temperature", WORD_REPAIR),
        ("blackcurrents", "blackcurrants", WORD_REPAIR),
        ("sevnty", "seventy", NUMBER_REPAIR),
        ("seventen", "seventeen", NUMBER_REPAIR),
        ("litrs", "litres", NUMBER_REPAIR),
    ],
)
def test_a_near_spelling_costs_what_it_risks(said: str, token: str, cost: int) -> None:
    assert meant(said)[token] == cost


@pytest.mark.parametrize(
    ("said", "tokens"),
    [
        ("yeas", {"yeast", "yes"}),
        ("nother", {"another", "other"}),
        ("cloud", {"cloudy", "loud"}),
        ("rasberry", {"raspberry"}),
        ("temprature", {"temperature"}),
    ],
)
def test_of_spellings_nearly_as_near_none_is_chosen(said: str, tokens: set[str]) -> None:
    assert set(meant(said)) == tokens


@pytest.mark.parametrize("said", ["tables", "radio", "xyz", "unk", "tin roof"])
def test_other_words_stand_for_nothing(said: str) -> None:
    assert meant(said) == {}


@pytest.mark.parametrize("said", sorted(LATTICES.number_words - {"quarter", "dozen"}))
def test_no_number_word_becomes_another(said: str) -> None:
    assert set(meant(said)) & LATTICES.number_words == {said}


def test_every_mishearing_leads_to_a_word_of_the_grammars() -> None:
    tokens = {token for found in LATTICES.misheard.values() for token in found}
    assert tokens <= LATTICES.tokens


def test_costs_add_up() -> None:
    assert repaired_numbers(2 * NUMBER_REPAIR + 3) == 2
    assert repaired_words(2 * NUMBER_REPAIR + 3) == 5


@pytest.mark.parametrize(
    ("said", "cost"),
    [
        ("too kilos", NUMBER_REPAIR),
        ("two killos", WORD_REPAIR),
        ("note to self", 0),
        ("set a timer for ten minutes", 0),
    ],
)
def test_a_repair_is_made_only_where_it_is_needed(said: str, cost: int) -> None:
    assert {p.cost for p in parse(tuple(said.split()))} == {cost}


@pytest.mark.parametrize("said", ["killos leeters bricks", "to for ate", "killos of shuga"])
def test_too_many_repairs_are_no_request(said: str) -> None:
    assert parse(tuple(said.split())) == ()
