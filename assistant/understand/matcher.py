"""Matches words against a book of grammars and keeps every reading that differs in meaning.

A chart matcher of our own instead of lark's Earley parser, for two reasons: a word must be able to
stand for several tokens at a cost, by position ("to" is two only where a number is wanted), and
readings must be packed by meaning, not by tree, or `[and]` and synonyms multiply them.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from assistant.understand.book import Book
from assistant.understand.jsgf import Alt, Node, Opt, Ref, Repeat, Seq, Tagged, Words
from assistant.understand.lattice import Edges

Value = Any
"""A figure, a unit, a name, an amount: whatever a rule's method made of its parts. Hashable."""
Found = dict[tuple[int, tuple[Value, ...]], int]
"""(where the match ends, the values on the way) -> the least cost of getting there."""
Build = Callable[[str, tuple[Value, ...]], tuple[Value, ...] | None]


def tag_value(tag: str) -> Value:
    """A tag's meaning: a figure where it reads like one, else its text.

    >>> tag_value("3/4"), tag_value("kg")
    (Fraction(3, 4), 'kg')
    """
    try:
        return Fraction(tag)
    except ValueError:
        return tag


@dataclass
class _Run:
    """One utterance being matched."""

    words: tuple[str, ...]
    edges: Edges
    done: dict[tuple[str, int], Found] = field(default_factory=dict)


@dataclass(frozen=True)
class Matcher:
    """Grammars plus the function that turns a rule's parts into its values (None: no meaning)."""

    book: Book
    build: Build

    def match(
        self, words: tuple[str, ...], edges: Edges, rule: str
    ) -> dict[tuple[Value, ...], int]:
        """The values of all the words under a rule, each with its least cost."""
        found = self._rule(rule, 0, _Run(words, edges))
        return {values: cost for (end, values), cost in found.items() if end == len(words)}

    def within(
        self, words: tuple[str, ...], edges: Edges, rules: tuple[str, ...]
    ) -> dict[str, list[tuple[int, int]]]:
        """By rule: where in the words it matches, begin and end, the longest at each begin."""
        run = _Run(words, edges)
        found: dict[str, list[tuple[int, int]]] = {}
        for rule in rules:
            for at in range(len(words)):
                ends = [end for end, _ in self._rule(rule, at, run)]
                if ends and max(ends) > at:
                    found.setdefault(rule, []).append((at, max(ends)))
        return found

    def _rule(self, name: str, at: int, run: _Run) -> Found:
        key = (name, at)
        if key not in run.done:
            found: Found = {}
            run.done[key] = found
            for (end, values), cost in self._node(self.book.rules[name].node, at, run).items():
                built = self.build(name, values)
                if built is not None:
                    _keep(found, (end, built), cost)
        return run.done[key]

    def _node(self, node: Node, at: int, run: _Run) -> Found:
        starts = self.book.starts(node)
        if starts is not None and starts.isdisjoint(run.edges[at]):
            return {}
        match node:
            case Words(text):
                return {(end, ()): cost for end, cost in run.edges[at].get(text, ())}
            case Ref(name):
                return self._reference(name, at, run)
            case Seq(items):
                return self._sequence(items, at, run)
            case Alt(options):
                return _union([self._node(option, at, run) for option in options])
            case Opt(item):
                return _union([{(at, ()): 0}, self._node(item, at, run)])
            case Repeat(item, least):
                return self._repeat(item, least, at, run)
            case Tagged(item, tag):
                value = tag_value(tag)
                found = self._node(item, at, run)
                return {(end, (*values, value)): cost for (end, values), cost in found.items()}

    def _reference(self, name: str, at: int, run: _Run) -> Found:
        if name == "NULL":
            return {(at, ()): 0}
        if name == "VOID":
            return {}
        if name == "words":
            return {
                (end, (" ".join(run.words[at:end]),)): 0
                for end in range(at + 1, len(run.words) + 1)
            }
        return self._rule(name, at, run)

    def _sequence(self, items: tuple[Node, ...], at: int, run: _Run) -> Found:
        so_far: Found = {(at, ()): 0}
        for item in items:
            so_far = self._extend(so_far, item, run)
            if not so_far:
                break
        return so_far

    def _extend(self, so_far: Found, item: Node, run: _Run, onward: bool = False) -> Found:
        """What follows when the item comes next; `onward`: it must take a word."""
        longer: Found = {}
        for (end, values), cost in so_far.items():
            for (new_end, more), extra in self._node(item, end, run).items():
                if new_end > end or not onward:
                    _keep(longer, (new_end, values + more), cost + extra)
        return longer

    def _repeat(self, item: Node, least: int, at: int, run: _Run) -> Found:
        start: Found = {(at, ()): 0}
        step = self._extend(start, item, run) if least else start
        found = dict(step)
        while step:
            step = self._extend(step, item, run, onward=True)
            for key, cost in step.items():
                _keep(found, key, cost)
        return found


def _keep(found: dict[Any, int], key: Any, cost: int) -> None:
    if cost < found.get(key, cost + 1):
        found[key] = cost


def _union(parts: list[Found]) -> Found:
    joined: Found = {}
    for part in parts:
        for key, cost in part.items():
            _keep(joined, key, cost)
    return joined
