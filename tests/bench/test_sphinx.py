"""The grammar PocketSphinx is held to: what the corpus says fits in and can be pronounced."""

import re
from collections import Counter
from functools import cache
from random import Random

import pytest

from assistant.hear.audio import read_recording
from assistant.understand.book import Book
from assistant.understand.jsgf_reading import read
from tests.bench.automaton import Automaton, automaton
from tests.bench.corpus.phrases import utterances
from tests.bench.engines import typed
from tests.bench.scoring import FOLDER, asked_for, clips, first_right
from tests.bench.sphinx import Sphinx, grammar, steps_of

STAGES = (
    "fruit", "sugar", "water", "juice", "citric_acid", "sorbate", "bottles", "temperature", "ph",
    "brix", "step", "question", "",
)  # fmt: skip


@cache
def made(awaiting: str) -> Automaton:
    book = Book((read(grammar(awaiting), "stages.jsgf"),))
    return automaton(book, [book.rules["asked"].node], bool)


@cache
def moves(awaiting: str) -> dict[tuple[int, str], int]:
    return {(start, word): end for start, end, word in made(awaiting).steps}


def fits(words: str, awaiting: str) -> bool:
    state = 0
    for word in re.sub("[,.?]", "", words).split():
        state = moves(awaiting).get((state, word), -1)
    return state in made(awaiting).ends


@pytest.mark.parametrize(
    ("words", "awaiting", "fit"),
    [
        ("two point four kilos of rhubarb", "fruit", True),
        ("two point four kilos of rhubarb", "temperature", False),
        ("point two five grams", "sorbate", True),
        ("seventy two degrees", "temperature", True),
        ("seventy two", "step", False),
        ("yes", "question", True),
        ("yes", "ph", False),
        ("set a timer for ten minutes", "step", True),
        ("seventy seventy", "temperature", False),
        ("seventy", "temperature", True),
    ],
)
def test_what_fits_is_what_is_asked(words: str, awaiting: str, fit: bool) -> None:
    assert fits(words, awaiting) is fit


def test_every_family_of_the_corpus_can_be_said() -> None:
    maker = utterances("dev", Random(4))
    said = [next(maker) for _ in range(500)]
    families = Counter(each.family for each in said)
    can = Counter(each.family for each in said if fits(each.words, each.awaiting))
    assert {name for name in families if can[name] < 0.9 * families[name]} == set()


@pytest.mark.parametrize("awaiting", ["temperature", "step"])
def test_the_branches_of_a_state_share_its_probability(awaiting: str) -> None:
    shares: Counter[int] = Counter()
    for step in steps_of(made(awaiting)):
        shares[step[0]] += step[2]
    assert set(shares) == set(range(made(awaiting).states))
    assert all(share == pytest.approx(1.0) for share in shares.values())


def test_every_word_has_a_pronunciation() -> None:
    pytest.importorskip("pocketsphinx", reason="comes with the extra `bench`")
    words = {word for awaiting in STAGES for _, _, word in made(awaiting).steps}
    sphinx = Sphinx()
    assert {word for word in words if not sphinx.knows(word)} == set()


def test_it_hears_clean_speech() -> None:
    """Not what it scores: only that it is set up to hear at all."""
    pytest.importorskip("pocketsphinx", reason="comes with the extra `bench`")
    sphinx = Sphinx()
    given = [c for c in clips(("demo", "test")) if c.voice == "joe" and c.condition == "clean"]
    right = 0
    for clip in [c for c in given if c.awaiting == "temperature"][:6]:
        sphinx.expect(clip.awaiting)
        text = sphinx.hear(read_recording(FOLDER / clip.file))
        right += first_right(clip, list(typed(text, asked_for(clip))))
    assert right >= 3
