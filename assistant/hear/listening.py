"""Recognises an utterance before its closing pause is over, and waits as its words ask for.

Computing during the pause costs nothing that a cook notices. If speech goes on, what was made of
the first part is thrown away; if not, it is the answer, since both look at the same sound.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from assistant.hear.endings import pause_after
from assistant.hear.heard import SAMPLE_RATE, Heard, Samples
from assistant.hear.voice_activity import FRAME, Endpointer, Pauses, Piece, Utterance, whole

EARLY = 0.32
"""Silence after which it is recognised [s]; not less than `Pauses.after`, or the sound differs."""
_BLOCK = 2 * FRAME

Recognise = Callable[[Utterance], Heard | None]


@dataclass
class Listening:
    """One stream being cut into utterances, each recognised as early as can be."""

    recognise: Recognise
    pauses: Pauses = field(default_factory=Pauses)

    def __post_init__(self) -> None:
        self._ends = Endpointer(self.pauses)
        self._parts: list[Piece] = []
        self._early: list[Heard | None] = []
        """What was made of the sound so far; [] when nothing was tried."""

    def over(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        """The utterances of a stream, each as soon as it has ended."""
        for block in _cut(blocks):
            yield from self._taken(self._ends.feed(block))
        yield from self._taken(self._ends.finish())

    def _taken(self, pieces: list[Piece]) -> Iterator[Heard]:
        for piece in pieces:
            self._parts.append(piece)
            if piece.last:
                heard = self._ended()
                if heard is not None:
                    yield heard
            elif piece.quiet < EARLY * SAMPLE_RATE:
                self._go_on()
            elif not self._early:
                self._try()

    def _go_on(self) -> None:
        if self._early:
            self._early = []
            self._ends.wait(self.pauses.pause)

    def _try(self) -> None:
        heard = self.recognise(whole(self._parts, self.pauses))
        self._early = [heard]
        if heard is not None:
            self._ends.wait(pause_after(heard.text, self.pauses.pause))

    def _ended(self) -> Heard | None:
        utterance = whole(self._parts, self.pauses)
        made = self._early and not utterance.cut
        heard = self._early[0] if made else self.recognise(utterance)
        self._parts, self._early = [], []
        self._ends.wait(self.pauses.pause)
        return heard


def _cut(blocks: Iterator[Samples]) -> Iterator[Samples]:
    """The stream in blocks so short that no pause goes by within one."""
    for block in blocks:
        for start in range(0, len(block), _BLOCK):
            yield block[start : start + _BLOCK]
