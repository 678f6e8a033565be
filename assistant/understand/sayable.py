"""What can be said: the phrase list for recognisers, examples for people, sentences for tests."""

from random import Random

from assistant.facts.asked import Asked
from assistant.understand.book import Book, shipped
from assistant.understand.jsgf import Alt, Node, Opt, Ref, Repeat, Rule, Seq, Tagged, Words
from assistant.understand.parsing import ROOT, parser
from assistant.understand.words import to_words

UNKNOWN = "[unk]"
"""What Vosk writes for words outside the list."""
_FREE = ("sticky", "lid", "dark", "windy", "early", "second pan")
MOST_EXAMPLES = 6


def phrases() -> tuple[str, ...]:
    """The words and short phrases of the grammars, for a recogniser with a closed vocabulary.

    All of them, whatever is asked: leaving words out would not make the recogniser hear better,
    it would make it write other words in their place.

    >>> {"seventy", "p h", "[unk]"} <= set(phrases())
    True
    """
    said = {" ".join(to_words(e)) for rule in _sayable(shipped()) for e in rule.examples}
    return (*sorted(parser().lattices.tokens | said), UNKNOWN)


def examples(asked: Asked) -> tuple[str, ...]:
    """A few things that can be said now, most fitting first.

    >>> examples(Asked(yes_no=True))[0]
    'yes'
    """
    wanted: list[str] = [a.what for a in asked.awaited[:1]]
    wanted += ["yes_no"] if asked.yes_no else []
    wanted += ["options"] if asked.options and not asked.awaited else []
    wanted += ["last"] if any(a.last is not None for a in asked.awaited) else []
    wanted += (
        ["batch", "always"] if asked.awaited or asked.yes_no else ["nothing", "stored", "always"]
    )
    if asked.awaited and asked.awaited[0].what == "fruit":
        wanted.insert(1, "fruit_name")
    rules = _sayable(shipped())
    found = [r.examples[0] for when in wanted for r in rules if when in r.when and r.examples]
    return tuple(dict.fromkeys(found))[:MOST_EXAMPLES]


def _sayable(book: Book) -> list[Rule]:
    reachable = book.reachable(ROOT)
    return [rule for rule in book.rules.values() if rule.name in reachable]


def sentences(rule: str, rng: Random, book: Book | None = None) -> str:
    """One sentence that the rule allows, chosen by the random source passed in.

    >>> sentences("undo", Random(1)) in {"scratch that", "undo", "undo that", "take that back",
    ...     "forget that", "cancel that", "that was wrong", "go back"}
    True
    """
    chosen = book or shipped()
    return " ".join(_say(chosen.rules[rule].node, rng, chosen))


def _say(node: Node, rng: Random, book: Book) -> list[str]:
    match node:
        case Words(text):
            return [text]
        case Ref("words"):
            return rng.sample(_FREE, rng.randint(1, 3))
        case Ref(name):
            return [] if name == "NULL" else _say(book.rules[name].node, rng, book)
        case Seq(items):
            return [word for item in items for word in _say(item, rng, book)]
        case Alt(options, weights):
            return _say(rng.choices(options, weights)[0], rng, book)
        case Opt(item):
            return _say(item, rng, book) if rng.random() < 0.5 else []
        case Repeat(item, least):
            times = least + rng.choice((0, 0, 1, 2))
            return [word for _ in range(times) for word in _say(item, rng, book)]
        case Tagged(item):
            return _say(item, rng, book)
