"""The directions of all ways of asking, worked out beforehand and kept beside the cards.

A sentence costs about 2 ms, and there are thousands. A sentence that the file lacks is worked out
on the spot, so a card may be changed without making the file anew; a test tells when it is old.

    python -m assistant.answers.directions      makes the file anew
"""

import re
from collections.abc import Iterable, Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from assistant.answers.leaning import Leaning, fit
from assistant.gist import Gist, shipped

if TYPE_CHECKING:
    from assistant.answers.card import Card

FILE = "directions.npz"
_FIGURE = re.compile(r"\{[^}]*\}")
ACTS = "acts"
"""What is reported or ordered leans to no question."""
_STEPS = 127.0
"""A direction is kept in 8-bit steps of its largest number."""


def directions(sentences: Sequence[str], gist: Gist | None = None) -> NDArray[np.float32]:
    """One row a sentence, unit length; what the file lacks is worked out by the sentence model."""
    kept = _kept()
    rows = [kept.get(text) for text in sentences]
    model = gist or shipped()
    made = [
        model.of(text.casefold()) if row is None else row
        for text, row in zip(sentences, rows, strict=True)
    ]
    return np.stack(made)


def lacking(sentences: Iterable[str]) -> list[str]:
    """The sentences that the file does not hold."""
    kept = _kept()
    return [text for text in sentences if text not in kept]


@cache
def _kept() -> dict[str, NDArray[np.float32]]:
    file = files("assistant.answers").joinpath(FILE)
    if not file.is_file():
        return {}
    with file.open("rb") as opened, np.load(opened) as held:
        texts = bytes(held["texts"]).decode("utf-8").split("\n")
        rows = held["rows"].astype(np.float32) * held["scales"][:, None]
    return dict(zip(texts, rows, strict=True))


@cache
def kept_leaning() -> Leaning:
    """What the ways of asking lean to, as it was fitted when the file was made."""
    file = files("assistant.answers").joinpath(FILE)
    if not file.is_file():
        return Leaning((), np.zeros((0, 0), np.float32))
    with file.open("rb") as opened, np.load(opened) as held:
        names = bytes(held["labels"]).decode("utf-8").split("\n")
        weights = held["leaning"].astype(np.float32) * held["leaning_scales"]
    return Leaning(tuple(names), weights)


def write(
    labels: Sequence[str],
    sentences: Sequence[str],
    file: Path,
    besides: Sequence[tuple[str, str]] = (),
) -> None:
    """Keep the directions of the sentences, in their order, and what they lean to.

    besides : labels and sentences that tell what a label is about, and are no way of asking it
    """
    texts = list(sentences)
    rows = np.stack([shipped().of(text.casefold()) for text in texts])
    scales = np.abs(rows).max(axis=1) / _STEPS
    steps = np.round(rows / scales[:, None]).astype(np.int8)
    plain = np.frombuffer("\n".join(texts).encode("utf-8"), dtype=np.uint8)
    about = [shipped().of(text.casefold()) for _, text in besides]
    leaning = fit([*labels, *(label for label, _ in besides)], np.stack([*rows, *about]))
    widest = np.abs(leaning.weights).max(axis=0) / _STEPS
    names = np.frombuffer("\n".join(leaning.labels).encode("utf-8"), dtype=np.uint8)
    np.savez_compressed(
        file,
        rows=steps,
        scales=scales.astype(np.float32),
        texts=plain,
        labels=names,
        leaning=np.round(leaning.weights / widest).astype(np.int8),
        leaning_scales=widest.astype(np.float32),
    )


def main() -> None:
    """Make the file anew."""
    from assistant.answers.card import all_cards
    from assistant.answers.match import TALK, talk
    from assistant.answers.topics import all_topics, leans_as
    from assistant.answers.ways import ways

    pairs = [(card.id, text) for card in all_cards().values() for text in card.asks]
    pairs += [(leans_as(name), text) for name, row in all_topics().items() for text in row.asks]
    pairs += [(TALK, text) for text in talk()]
    pairs += [(ACTS, text) for texts in ways("acts").values() for text in texts]
    labels, sentences = ([pair[part] for pair in pairs] for part in (0, 1))
    besides = [(card.id, card.title) for card in all_cards().values()]
    besides += [(card.id, told) for card in all_cards().values() for told in _told(card)]
    besides += [(leans_as(name), row.title) for name, row in all_topics().items()]
    write(labels, sentences, Path(__file__).with_name(FILE), besides)


def _told(card: "Card") -> list[str]:
    """What a card says, without its figures: questions lie near their answers."""
    return [f"{card.title}. {_FIGURE.sub('', saying.say)}" for saying in card.says]


if __name__ == "__main__":
    main()
