"""Words to meanings, with the shipped grammars: compiled once, results kept for a while."""

from dataclasses import dataclass
from functools import lru_cache

from assistant.understand.book import Book, shipped
from assistant.understand.lattice import Lattices, repaired_words
from assistant.understand.matcher import Matcher, Value
from assistant.understand.meaning import Meanings
from assistant.understand.meant import Meant

ROOT = "saying"
MOST_WORDS = 30
"""A longer utterance is talk, not a request. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Parsed:
    """One meaning of the words, and what had to be repaired to get it (0: nothing)."""

    meant: Meant
    cost: int


class Parser:
    """A book of grammars, ready to parse."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.lattices = Lattices(book)
        self._matcher = Matcher(book, Meanings().build)

    def values(self, words: tuple[str, ...], rule: str) -> dict[tuple[Value, ...], int]:
        """What all the words come to under any rule, each with what had to be repaired."""
        return self._matcher.match(words, self.lattices.of(words), rule)

    def within(
        self, words: tuple[str, ...], rules: tuple[str, ...]
    ) -> dict[str, list[tuple[int, int]]]:
        """Where in a sentence rules match without any repair: begin and longest end, by rule."""
        return self._matcher.within(words, self.lattices.exact(words), rules)

    def parse(self, words: tuple[str, ...], rule: str = ROOT) -> tuple[Parsed, ...]:
        """Every meaning of all the words together, the least repaired first.

        Meanings that need more repair than the best one are dropped.
        """
        found = self.values(words, rule) if 0 < len(words) <= MOST_WORDS else {}
        least = min(found.values(), default=0)
        if repaired_words(least) > max(1, len(words) // 3):
            return ()
        return tuple(Parsed(v[0], cost) for v, cost in found.items() if v and cost == least)

    def foreign(self, words: tuple[str, ...]) -> int:
        """How many of the words no grammar knows."""
        return sum(word not in self.lattices.tokens for word in words)


@lru_cache(maxsize=1)
def parser() -> Parser:
    """The parser for the shipped grammars."""
    return Parser(shipped())


@lru_cache(maxsize=512)
def parse(words: tuple[str, ...]) -> tuple[Parsed, ...]:
    """Every meaning of the words under the shipped grammars.

    >>> [str(p.meant.value) for p in parse(("two", "fifty"))]
    ['250', '5/2']
    """
    return parser().parse(words)
