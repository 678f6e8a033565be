"""The tokens that Moonshine writes in: from text to tokens and back.

Pieces are numbered in the order in which they were merged, as SentencePiece's byte-pair encoding
does it, so that the list of pieces is all it takes to cut up a text.
"""

from pathlib import Path

BEGIN, END = 1, 2
_SPACE = "\u2581"


class Tokens:
    """The tokens in a packed file."""

    def __init__(self, file: Path) -> None:
        self._pieces = _unpacked(file.read_bytes())
        self._numbers = {piece: number for number, piece in enumerate(self._pieces) if number > END}
        """Of single letters, which are there as bytes too, the last one is the letter."""
        self._known: dict[str, tuple[int, ...]] = {}

    def text(self, tokens: tuple[int, ...]) -> str:
        """What the tokens say."""
        joined = b"".join(self._pieces[token] for token in tokens if token > END)
        return joined.decode("utf-8", "replace").replace(_SPACE, " ").strip()

    def cut(self, text: str) -> tuple[int, ...]:
        """The tokens that a text is written in; what has no token is left out."""
        return tuple(token for word in text.split(" ") for token in self._cut_word(_SPACE + word))

    def _cut_word(self, word: str) -> tuple[int, ...]:
        if word not in self._known:
            parts = [char.encode() for char in word]
            while (place := self._next_merge(parts)) is not None:
                parts[place : place + 2] = [parts[place] + parts[place + 1]]
            found = (self._numbers[part] for part in parts if part in self._numbers)
            self._known[word] = tuple(found)
        return self._known[word]

    def _next_merge(self, parts: list[bytes]) -> int | None:
        """Where the two neighbours stand that were merged first of all."""
        found = (
            (self._numbers[parts[at] + parts[at + 1]], at)
            for at in range(len(parts) - 1)
            if parts[at] + parts[at + 1] in self._numbers
        )
        return min(found, default=(0, None))[1]


def _unpacked(packed: bytes) -> list[bytes]:
    """Each piece is a length, in one byte or two, and so many bytes."""
    found, at = [], 0
    while at < len(packed):
        length, at = packed[at], at + 1
        if length >= 128:
            length, at = packed[at] * 128 + length - 128, at + 1
        found.append(packed[at : at + length])
        at += length
    return found
