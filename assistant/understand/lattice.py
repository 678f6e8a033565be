"""What each heard word may stand for: itself, a known mishearing, a near spelling.

An edge leads from one position to a later one under a token of the grammar. Its cost says what had
to be repaired; a repaired number word costs `NUMBER_REPAIR`, so that it is never believed unasked.
"""

from dataclasses import dataclass
from functools import cached_property

from rapidfuzz import fuzz, process

from assistant.understand.book import Book
from assistant.understand.jsgf import Alt, Node, Seq, Tagged, Words, children, walk

WORD_REPAIR = 1
NUMBER_REPAIR = 100
NEAR_ENOUGH = 80.0
"""rapidfuzz ratio (0 to 100) from which a spelling counts as near. Common practice, no source."""
SHORTEST = 4
"""Shorter words are not repaired by spelling: too many neighbours."""
LONGEST_TOKEN = 3

Edges = list[dict[str, list[tuple[int, int]]]]


def repaired_numbers(cost: int) -> int:
    """How many number words a reading had to repair."""
    return cost // NUMBER_REPAIR


def repaired_words(cost: int) -> int:
    """How many words, numbers included, a reading had to repair."""
    return cost % NUMBER_REPAIR + repaired_numbers(cost)


@dataclass(frozen=True)
class Lattices:
    """Makes lattices for one book of grammars."""

    book: Book

    @cached_property
    def number_words(self) -> frozenset[str]:
        """Tokens tagged with a figure: they are never put in silently."""
        found: set[str] = set()
        for rule in self.book.rules.values():
            _tagged_numbers(rule.node, found)
        return frozenset(found)

    @cached_property
    def misheard(self) -> dict[str, tuple[str, ...]]:
        """Heard words (one to three) -> the tokens that may have been meant."""
        rule = self.book.rules.get("misheard_word")
        table: dict[str, tuple[str, ...]] = {}
        for tagged in _options(rule.node) if rule else ():
            if isinstance(tagged, Tagged):
                for heard in _texts(tagged.item):
                    table[heard] = (*table.get(heard, ()), tagged.tag)
        return table

    @cached_property
    def vocabulary(self) -> tuple[str, ...]:
        """The words that rules can match, without those that are only mishearings."""
        return tuple(sorted(self.tokens))

    @cached_property
    def tokens(self) -> frozenset[str]:
        """The tokens that the saying rule leads to."""
        rules = (self.book.rules[name] for name in self.book.reachable("saying"))
        return frozenset(n.text for r in rules for n in walk(r.node) if isinstance(n, Words))

    def of(self, words: tuple[str, ...]) -> Edges:
        """The edges that leave each position."""
        edges: Edges = [{} for _ in range(len(words) + 1)]
        for at in range(len(words)):
            for length in range(1, min(LONGEST_TOKEN, len(words) - at) + 1):
                said = " ".join(words[at : at + length])
                for token, cost in self._meant(said, length):
                    edges[at].setdefault(token, []).append((at + length, cost))
        return edges

    def _meant(self, said: str, length: int) -> list[tuple[str, int]]:
        meant = [(said, 0)] if said in self.tokens else []
        meant += [(token, self._cost(token)) for token in self.misheard.get(said, ())]
        if not meant and length == 1 and len(said) >= SHORTEST:
            meant += [(token, self._cost(token)) for token in self._near(said)]
        return meant

    def _cost(self, token: str) -> int:
        return NUMBER_REPAIR if token in self.number_words else WORD_REPAIR

    def _near(self, said: str) -> list[str]:
        found = process.extract(
            said, self.vocabulary, scorer=fuzz.ratio, score_cutoff=NEAR_ENOUGH, limit=3
        )
        return [token for token, _, _ in found]


def _options(node: Node) -> tuple[Node, ...]:
    return node.options if isinstance(node, Alt) else (node,)


def _texts(node: Node) -> list[str]:
    match node:
        case Words(text):
            return [text]
        case Seq(items):
            return [" ".join(t for item in items for t in _texts(item))]
        case Alt(options):
            return [t for option in options for t in _texts(option)]
        case _:
            return []


def _tagged_numbers(node: Node, found: set[str]) -> None:
    if isinstance(node, Tagged) and node.tag.replace("/", "").lstrip("-").isdigit():
        found.update(word for text in _texts(node.item) for word in text.split())
    for child in children(node):
        _tagged_numbers(child, found)
