"""What is spoken for training, and what is to be written for it.

    python -m tests.bench.tuning.texts --out texts.jsonl --seed 1 --size 6000

Phrases of the development split, sentences of the grammars, natural lines of the panel's open half,
and general talk against forgetting. A phrase that belongs to the held-out split is never among them
(`tests.bench.corpus.split`), nor a locked line of the panel. Numbers are written in figures
where the understanding reads the figures as it reads the words.
"""

import argparse
import json
import re
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

from num2words import num2words

from assistant.facts.asked import Asked
from assistant.understand.book import shipped
from assistant.understand.parsing import ROOT
from assistant.understand.sayable import sentences
from tests.bench.corpus import talk
from tests.bench.corpus.phrases import Said, utterances
from tests.bench.corpus.split import split_of
from tests.bench.engines import typed
from tests.bench.scoring import Clip, asked_for
from tests.bench.tuning.writing import in_figures, readings, sentence

OPEN = Path(__file__).parents[2] / "panel" / "open.jsonl"
SHARES = (("phrases", 55), ("grammar", 20), ("panel", 10), ("talk", 15))
_LONGEST = 18
_ONCE = 3


def written(words: str, awaiting: str, events: tuple[dict[str, Any], ...]) -> str:
    """The first way to write the words that is understood as the words are."""
    clip = Clip(
        file="", set="", words=words, awaiting=awaiting, events=events, voice="", voice_kind="",
        noise="", snr_db=None,
    )  # fmt: skip
    asked = asked_for(clip) if awaiting else Asked()
    meant = typed(words, asked)
    return next((way for way in readings(words) if typed(way, asked) == meant), readings(words)[-1])


def from_phrases(rng: Random) -> Iterator[tuple[str, str]]:
    """Sayings of the development split with what is written for them."""
    said: Said
    for said in utterances("dev", rng, _ONCE):
        yield said.words, written(said.words, said.awaiting, said.events)


def from_grammar(rng: Random) -> Iterator[tuple[str, str]]:
    """Sentences of every rule that can be said; those of the held-out split are passed over."""
    book = shipped()
    rules = sorted(book.reachable(ROOT))
    while True:
        words = sentences(rng.choice(rules), rng, book)
        if 0 < len(words.split()) <= _LONGEST and "[" not in words and split_of(words) == "dev":
            if re.search(_ENDS_IN_OH, words):
                continue
            yield words, written(words, "", ())


_ENDS_IN_OH = r"\b(oh|zero|nought|naught)\b(?! (one|two|three|four|five|six|seven|eight|nine)\b)"
"""Nobody says "nine oh", and it must not become 90."""


def from_panel(rng: Random) -> Iterator[tuple[str, str]]:
    """Natural lines of the half that may be read."""
    lines = [json.loads(line)["text"] for line in OPEN.read_text("utf-8").splitlines() if line]
    fit = [line for line in lines if len(line.split()) <= _LONGEST and re.fullmatch(_PLAIN, line)]
    while True:
        line = rng.choice(fit)
        yield re.sub(r"\d+(\.\d+)?", lambda n: _said(n[0]), line), sentence(line)


_PLAIN = r"[A-Za-z0-9 ,.?'-]+"


def _said(figures: str) -> str:
    return str(num2words(float(figures) if "." in figures else int(figures))).replace("-", " ")


def from_talk(rng: Random) -> Iterator[tuple[str, str]]:
    """Sentences of general talk, of the development split."""
    while True:
        for line in talk.passage(rng, "dev"):
            if len(line.split()) <= _LONGEST:
                yield line, sentence(in_figures(line))


def texts(size: int, seed: int) -> Iterator[tuple[str, str, str]]:
    """So many (source, words, written)."""
    makers = {"phrases": from_phrases, "grammar": from_grammar, "panel": from_panel,
              "talk": from_talk}  # fmt: skip
    streams = {name: makers[name](Random(f"{seed} {name}")) for name, _ in SHARES}
    names, shares = zip(*SHARES, strict=True)
    order = Random(f"{seed} order")
    for _ in range(size):
        source = order.choices(names, shares)[0]
        yield source, *next(streams[source])


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--out", type=Path, required=True)
    options.add_argument("--size", type=int, default=6000)
    options.add_argument("--seed", type=int, default=1)
    given = options.parse_args()
    with given.out.open("w", encoding="utf-8") as file:
        for source, words, text in texts(given.size, given.seed):
            print(json.dumps({"source": source, "words": words, "text": text}), file=file)


if __name__ == "__main__":
    main()
