"""What each heard word may stand for: itself, a known mishearing, a near spelling.

An edge leads from one position to a later one under a token of the grammar. Its cost says what had
to be repaired; a repaired number word, or a unit guessed from its spelling, costs `NUMBER_REPAIR`,
so that it is never believed unasked.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from rapidfuzz import fuzz, process

from assistant.base.units import UNITS
from assistant.understand.book import Book
from assistant.understand.jsgf import Alt, Node, Seq, Tagged, Words, walk

WORD_REPAIR = 1
NUMBER_REPAIR = 100
NEAR_ENOUGH = 80.0
"""rapidfuzz ratio (0 to 100) from which a spelling counts as near. Common practice, no source."""
NO_DOUBT = 6.0
"""So much nearer a spelling must be for others not to count ("rasberry" is no cranberry)."""
SHORTEST = 4
"""Shorter words are not repaired by spelling: too many neighbours."""
LONGEST_TOKEN = 3

Edges = list[dict[str, list[tuple[int, int]]]]


def repaired_numbers(cost: int) -> int:
    """How many number words (or units by spelling) a reading had to repair."""
    return cost // NUMBER_REPAIR


def repaired_words(cost: int) -> int:
    """How many words, numbers included, a reading had to repair."""
    return cost % NUMBER_REPAIR + repaired_numbers(cost)


@dataclass(frozen=True)
class Lattices:
    """Makes lattices for one book of grammars."""

    book: Book
    root: str = "saying"

    @cached_property
    def number_words(self) -> frozenset[str]:
        """Tokens tagged with a figure, a point or a minus: they are never put in silently."""
        return self._tagged(_is_figure)

    @cached_property
    def unit_words(self) -> frozenset[str]:
        """Tokens tagged with a unit: a near spelling may be another unit."""
        return self._tagged(UNITS.__contains__)

    def _tagged(self, wanted: Callable[[str], bool]) -> frozenset[str]:
        nodes = (node for name in self.book.reachable(self.root) for node in walk(self._node(name)))
        tagged = (n for n in nodes if isinstance(n, Tagged) and wanted(n.tag))
        texts = (n.text for t in tagged for n in walk(t.item) if isinstance(n, Words))
        return frozenset(texts) - {"a", "an"}

    def _node(self, name: str) -> Node:
        return self.book.rules[name].node

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
        """The tokens that the root rule leads to."""
        nodes = (n for name in self.book.reachable(self.root) for n in walk(self._node(name)))
        return frozenset(n.text for n in nodes if isinstance(n, Words))

    def of(self, words: tuple[str, ...]) -> Edges:
        """The edges that leave each position."""
        edges: Edges = [{} for _ in range(len(words) + 1)]
        for at in range(len(words)):
            for length in range(1, min(LONGEST_TOKEN, len(words) - at) + 1):
                said = " ".join(words[at : at + length])
                for token, cost in self._meant(said, length):
                    edges[at].setdefault(token, []).append((at + length, cost))
        return edges

    def exact(self, words: tuple[str, ...]) -> Edges:
        """The same without any repair: words that are tokens stand for themselves."""
        edges: Edges = [{} for _ in range(len(words) + 1)]
        for at in range(len(words)):
            for end in range(at + 1, min(len(words), at + LONGEST_TOKEN) + 1):
                said = " ".join(words[at:end])
                if said in self.tokens:
                    edges[at][said] = [(end, 0)]
        return edges

    def _meant(self, said: str, length: int) -> list[tuple[str, int]]:
        meant = [(said, 0)] if said in self.tokens else []
        for token in self.misheard.get(said, ()):
            meant.append((token, NUMBER_REPAIR if token in self.number_words else WORD_REPAIR))
        if not meant and length == 1 and len(said) >= SHORTEST:
            weighty = self.number_words | self.unit_words
            for token in self._near(said):
                meant.append((token, NUMBER_REPAIR if token in weighty else WORD_REPAIR))
        return meant

    def _near(self, said: str) -> list[str]:
        """Spellings near to it, best first: a good deal nearer ones leave no doubt."""
        found = process.extract(
            said, self.vocabulary, scorer=fuzz.ratio, score_cutoff=NEAR_ENOUGH, limit=3
        )
        return [token for token, score, _ in found if score >= found[0][1] - NO_DOUBT]


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


def _is_figure(tag: str) -> bool:
    return tag in (".", "-") or tag.replace("/", "").lstrip("-").isdigit()
