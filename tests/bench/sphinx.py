"""PocketSphinx held to our grammar: the rules for what is asked, as an automaton of its words.

Words that its dictionary lacks, free words and what is not asked for are left out: a smaller
grammar is in its favour. Its own reader of JSGF takes minutes for rules as nested as these, so the
automaton is made here.
"""

from functools import lru_cache
from typing import Any

from assistant.hear.audio import to_pcm16
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.understand.book import shipped
from assistant.understand.jsgf import Alt, Node, Opt, Ref, Seq
from tests.bench.automaton import automaton

_ALWAYS = (
    "onward", "stop", "say_again", "timer_set", "timer_stop", "undo", "temperature", "ph", "brix",
    "ask_how_much", "ask_keep", "ask_where", "ask_next", "ask_why", "ask_say_what", "ask_help",
    "ask_more", "ask_how_long", "ask_bottles", "ask_limit",
)  # fmt: skip
_WHEN = {
    "fruit": ("quantity", "choice"), "juice": ("quantity",), "sugar": ("quantity",),
    "water": ("quantity",), "citric_acid": ("quantity",), "sorbate": ("quantity", "choice"),
    "temperature": ("number_alone",), "ph": ("number_alone",), "brix": ("number_alone",),
    "bottles": ("bottle", "number_alone"), "question": ("yes", "no"),
}  # fmt: skip
_RIGHT = ("bare_number", "amount", "temperature")
"""What may be put right: one value, not "sixty, not seventy", which makes 150,000 steps."""


def _any(names: tuple[str, ...]) -> Alt:
    return Alt(tuple(Ref(name, 0) for name in names), (1.0,) * len(names))


_BEFORE = Opt(_any(("before",)))
_AFTER = Opt(_any(("after",)))


def nodes_for(awaiting: str) -> tuple[Node, ...]:
    """The sayings that make sense while this is asked."""
    wanted = (*_ALWAYS, *_WHEN.get(awaiting, ("choice", "discard")))
    denied = Seq((Ref("denial", 0), Opt(Ref("amends", 0)), _any(_RIGHT)))
    amended = Seq((Ref("amends", 0), _any(_RIGHT)))
    said = _any(tuple(rule for rule in wanted if rule in shipped().rules))
    return (Seq((_BEFORE, said, _AFTER)), denied, amended)


class Sphinx:
    """The decoder, with one grammar for each thing that may be asked."""

    def __init__(self) -> None:
        from pocketsphinx import Decoder

        self._decoder: Any = Decoder(lm=None, samprate=float(SAMPLE_RATE), loglevel="FATAL")
        self._knows = lru_cache(maxsize=None)(self._decoder.lookup_word)
        self._load = lru_cache(maxsize=None)(self._add)

    def _add(self, awaiting: str) -> str:
        """Make the grammar for what is asked; every end leads to one last state without a word."""
        made = automaton(shipped(), nodes_for(awaiting), lambda word: bool(self._knows(word)))
        name, last = f"asked_{awaiting or 'nothing'}", made.states
        steps: list[tuple[Any, ...]] = [(start, end, 1.0, word) for start, end, word in made.steps]
        steps += [(end, last, 1.0) for end in sorted(made.ends)]
        self._decoder.add_fsg(name, self._decoder.create_fsg(name, 0, last, steps))
        return name

    def hear(self, samples: Samples, awaiting: str) -> str:
        """The words of an utterance, "" when none fit."""
        self._decoder.activate_search(self._load(awaiting))
        self._decoder.start_utt()
        self._decoder.process_raw(to_pcm16(samples), full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        return str(found.hypstr) if found else ""
