"""Grammar rules as a finite automaton without empty steps, for decoders that take nothing else."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from assistant.understand.book import Book
from assistant.understand.jsgf import Alt, Node, Opt, Ref, Repeat, Seq, Tagged, Words

Step = tuple[int, int, str]


@dataclass
class Loose:
    """An automaton with empty steps, as it comes out of the rules."""

    book: Book
    known: Callable[[str], bool]
    rules: dict[str, "Automaton"] = field(default_factory=dict)
    words: list[dict[str, set[int]]] = field(default_factory=list)
    empty: list[set[int]] = field(default_factory=list)

    def state(self) -> int:
        """A new state."""
        self.words.append({})
        self.empty.append(set())
        return len(self.words) - 1

    def add(self, node: Node, start: int) -> int:
        """Lay a node from a state; the state behind it."""
        match node:
            case Words(text):
                return self._word(text, start)
            case Ref(name):
                return self._reference(name, start)
            case Seq(items):
                for item in items:
                    start = self.add(item, start)
                return start
            case Alt(options):
                return self._join(start, [self.add(option, start) for option in options])
            case Opt(item):
                return self._join(start, [start, self.add(item, start)])
            case Repeat(item, least):
                return self._again(item, least, start)
            case Tagged(item):
                return self.add(item, start)

    def _reference(self, name: str, start: int) -> int:
        """Another rule; free words and what can't be said lead nowhere."""
        if name == "NULL":
            return start
        return self.state() if name in ("words", "VOID") else self._copy(self._rule(name), start)

    def _rule(self, name: str) -> "Automaton":
        """A rule's own automaton, made once: laid out anew each time, numbers would fill memory."""
        if name not in self.rules:
            inner = Loose(self.book, self.known, self.rules)
            start, final = inner.state(), inner.state()
            inner.empty[inner.add(self.book.rules[name].node, start)].add(final)
            self.rules[name] = _smallest(_strict(inner, start, final))
        return self.rules[name]

    def _copy(self, made: "Automaton", start: int) -> int:
        first = len(self.words)
        for _ in range(made.states):
            self.state()
        last = self.state()
        self.empty[start].add(first)
        for begin, end, word in made.steps:
            self.words[first + begin].setdefault(word, set()).add(first + end)
        for end in made.ends:
            self.empty[first + end].add(last)
        return last

    def _word(self, text: str, start: int) -> int:
        """A token of several words is laid word by word; an unknown one leads nowhere."""
        for word in text.split():
            end = self.state()
            if self.known(word):
                self.words[start].setdefault(word, set()).add(end)
            start = end
        return start

    def _join(self, start: int, ends: list[int]) -> int:
        del start
        last = self.state()
        for end in ends:
            self.empty[end].add(last)
        return last

    def _again(self, item: Node, least: int, start: int) -> int:
        turn = self.state()
        self.empty[start].add(turn)
        end = self.add(item, turn)
        self.empty[end].add(turn)
        return self._join(start, [end, turn] if least == 0 else [end])

    def closed(self, states: Iterable[int]) -> frozenset[int]:
        """The states and all that are reached without a word."""
        seen, todo = set(states), list(states)
        while todo:
            more = self.empty[todo.pop()] - seen
            seen |= more
            todo += more
        return frozenset(seen)


@dataclass(frozen=True)
class Automaton:
    """Steps from state to state on a word; it begins at 0 and may end at `ends`."""

    states: int
    steps: tuple[Step, ...]
    ends: frozenset[int]


def automaton(book: Book, nodes: Iterable[Node], known: Callable[[str], bool]) -> Automaton:
    """One for the sentences that any of the nodes allows, in words that are known."""
    loose = Loose(book, known)
    start, final = loose.state(), loose.state()
    for node in nodes:
        loose.empty[loose.add(node, start)].add(final)
    return _smallest(_strict(loose, start, final))


def _strict(loose: Loose, start: int, final: int) -> Automaton:
    """One state for each set of states that the same words lead to."""
    first = loose.closed((start,))
    number = {first: 0}
    steps: list[Step] = []
    todo = [first]
    while todo:
        here = todo.pop()
        out: dict[str, set[int]] = {}
        for state in here:
            for word, ends in loose.words[state].items():
                out.setdefault(word, set()).update(ends)
        for word, ends in out.items():
            there = loose.closed(ends)
            if there not in number:
                number[there] = len(number)
                todo.append(there)
            steps.append((number[here], number[there], word))
    return Automaton(
        len(number), tuple(steps), frozenset(n for s, n in number.items() if final in s)
    )


def _smallest(given: Automaton) -> Automaton:
    """States that allow the same endings made one (E. F. Moore 1956), dead ends cut off."""
    out: list[list[tuple[str, int]]] = [[] for _ in range(given.states)]
    for start, end, word in given.steps:
        out[start].append((word, end))
    group = [int(state in given.ends) for state in range(given.states)]
    while True:
        known: dict[tuple[int, frozenset[tuple[str, int]]], int] = {}
        signs = [(group[s], frozenset((w, group[e]) for w, e in out[s])) for s in range(len(out))]
        for sign in [signs[0], *signs]:
            known.setdefault(sign, len(known))
        again = [known[sign] for sign in signs]
        if len(set(again)) == len(set(group)):
            break
        group = again
    steps = {(again[start], again[end], word) for start, end, word in given.steps}
    ends = frozenset(again[state] for state in given.ends)
    return Automaton(len(known), tuple(sorted(_alive(steps, ends))), ends)


def _alive(steps: set[Step], ends: frozenset[int]) -> set[Step]:
    """The steps from which an end can be reached."""
    good = set(ends)
    while True:
        more = {start for start, end, _ in steps if end in good} - good
        if not more:
            return {step for step in steps if step[1] in good}
        good |= more
