"""PocketSphinx held to a finite grammar for what is asked, as one would set it up with care.

Numbers, units and names stand in `stages.jsgf`, flat and small, since whatever else a grammar
allows is heard for what was said; the fixed sayings come from our grammars. The decoder's own
reader of JSGF makes the same sentences of it, with steps that take no word and make the search ten
times slower, so the automaton is made here. The branches of a state share its probability, and
words that the dictionary lacks are added with the phones of the American model.
"""

from collections import Counter
from functools import lru_cache
from pathlib import Path
from typing import Any

from assistant.hear.audio import to_pcm16
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.understand.book import Book, shipped
from assistant.understand.jsgf import Alt, Node, Opt, Ref, Repeat, Seq, Tagged, Words
from assistant.understand.jsgf_reading import read
from tests.bench.automaton import Automaton, automaton

ADDED = {
    "litre": "L IY T ER", "litres": "L IY T ER Z", "nought": "N AO T", "sorbate": "S AO R B EY T",
    "blackcurrants": "B L AE K K ER AH N T S", "redcurrants": "R EH D K ER AH N T S",
    "blackcurrant": "B L AE K K ER AH N T", "redcurrant": "R EH D K ER AH N T",
    "currant": "K ER AH N T", "currants": "K ER AH N T S", "damsons": "D AE M Z AH N Z",
    "elderberry": "EH L D ER B EH R IY", "elderberries": "EH L D ER B EH R IY Z",
    "pomegranates": "P AA M AH G R AE N AH T S", "glycerin": "G L IH S ER AH N",
    "glycerine": "G L IH S ER AH N", "erm": "ER M",
    "refractometer": "R IY F R AE K T AA M AH T ER",
}  # fmt: skip
"""Words missing from the wheel's dictionary."""
COMMANDS = (
    "onward", "stop", "say_again", "undo", "ask_how_much", "ask_keep", "ask_where",
    "ask_next", "ask_why", "ask_say_what", "ask_help", "ask_more", "ask_how_long", "ask_bottles",
    "ask_limit",
)  # fmt: skip
ANSWERS = ("yes", "no")
NEW_WORD = 0.01
"""What a further word costs: the decoder's own 0.65 makes two short words of a long one. Found on
clean clips of the development set, neural voices: 52 of 61 right with 0.65, 54 with 0.01."""
_FLAT = Path(__file__).with_name("stages.jsgf")


def text_of(node: Node) -> str:
    """A part of our grammars as JSGF again, without tags.

    >>> text_of(Seq((Words("go"), Opt(Ref("size", 1)))))
    'go [<size>]'
    """
    match node:
        case Words(text):
            return text
        case Ref(name):
            return f"<{name}>"
        case Seq(items):
            return " ".join(text_of(item) for item in items)
        case Alt(options):
            return f"({' | '.join(text_of(option) for option in options)})"
        case Opt(item):
            return f"[{text_of(item)}]"
        case Repeat(item, least):
            return f"({text_of(item)}){'+' if least else '*'}"
        case Tagged(item):
            return text_of(item)


def grammar(awaiting: str) -> str:
    """What makes sense while this is asked, as JSGF with the public rule `asked`."""
    book, flat = shipped(), _FLAT.read_text("utf-8")
    said = [*COMMANDS, *(ANSWERS if awaiting == "question" else ())]
    names = {name for top in said for name in book.reachable(top)}
    ours = [
        f"<{name}> = {text_of(book.rules[name].node)};"
        for name in sorted(names)
        if f"<{name}> =" not in flat
    ]
    now = f"<{awaiting}_now> | <amend> <{awaiting}_now> | " if f"<{awaiting}_now>" in flat else ""
    sayings = " | ".join(f"<{name}>" for name in said)
    top = f"public <asked> = [<before>] ({now}<timer> | <timer_stop> | {sayings}) [<after>];"
    return "\n".join((flat, *ours, top, ""))


def steps_of(made: Automaton) -> list[tuple[Any, ...]]:
    """The automaton as the decoder takes it: every end leads to one last state without a word.

    >>> steps_of(Automaton(2, ((0, 1, "yes"), (0, 1, "no")), frozenset((1,))))
    [(0, 1, 0.5, 'yes'), (0, 1, 0.5, 'no'), (1, 2, 1.0)]
    """
    ways = Counter([start for start, _, _ in made.steps] + list(made.ends))
    steps: list[tuple[Any, ...]] = [
        (start, end, 1 / ways[start], word) for start, end, word in made.steps
    ]
    return steps + [(end, made.states, 1 / ways[end]) for end in sorted(made.ends)]


class Sphinx:
    """The decoder, with one grammar for each thing that may be asked."""

    def __init__(self) -> None:
        from pocketsphinx import Decoder

        self._decoder: Any = Decoder(
            lm=None, samprate=float(SAMPLE_RATE), wip=NEW_WORD, loglevel="FATAL"
        )
        for word, phones in ADDED.items():
            self._decoder.add_word(word, phones, update=False)
        self._load = lru_cache(maxsize=None)(self._add)

    def knows(self, word: str) -> bool:
        """Whether the word has a pronunciation."""
        return bool(self._decoder.lookup_word(word))

    def _add(self, awaiting: str) -> str:
        """Make the grammar for what is asked."""
        book = Book((read(grammar(awaiting), "stages.jsgf"),))
        made = automaton(book, [book.rules["asked"].node], self.knows)
        name = f"asked_{awaiting or 'nothing'}"
        fsg = self._decoder.create_fsg(name, 0, made.states, steps_of(made))
        self._decoder.add_fsg(name, fsg)
        return name

    def expect(self, awaiting: str) -> None:
        """What is asked from now on."""
        self._decoder.activate_search(self._load(awaiting))

    def hear(self, samples: Samples) -> str:
        """The words of an utterance, "" when none fit."""
        self._decoder.start_utt()
        self._decoder.process_raw(to_pcm16(samples), full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        return str(found.hypstr) if found else ""
