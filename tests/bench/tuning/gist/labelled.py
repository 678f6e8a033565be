"""Writes every way of asking, telling and talking with its label, for tuning.

    python -m tests.bench.tuning.gist.labelled work/labelled.tsv

One line each: label, tab, text. No line of the panel is among them.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

from assistant.answers.card import all_cards
from assistant.answers.match import talk
from assistant.answers.topics import all_topics, leans_as
from assistant.answers.ways import ways

NOT_OURS = "TALK"


def labelled() -> Iterator[tuple[str, str]]:
    """Label and text: cards, topics, acts, and talk that is not for us."""
    for card in all_cards().values():
        yield from ((card.id, text) for text in card.asks)
    for name, topic in all_topics().items():
        yield from ((leans_as(name), text) for text in topic.asks)
    for act, texts in ways("acts").items():
        yield from ((act, text) for text in texts)
    yield from ((NOT_OURS, text) for text in talk())


def main(file: Path) -> None:
    """Write them."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text("".join(f"{label}\t{text}\n" for label, text in labelled()), "utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
