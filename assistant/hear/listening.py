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
GAP = 0.3
"""Inner pauses are shortened to about this [s]."""
_BLOCK = 2 * FRAME
_LEAD_IN = 3
"""Blocks of silence kept before speech goes on: its first sounds are faint."""

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
        heard = self.recognise(whole(closed_up(self._parts), self.pauses))
        self._early = [heard]
        if heard is not None:
            self._ends.wait(pause_after(heard.text, self.pauses.pause))

    def _ended(self) -> Heard | None:
        utterance = whole(closed_up(self._parts), self.pauses)
        made = self._early and not utterance.cut
        heard = self._early[0] if made else self.recognise(utterance)
        self._parts, self._early = [], []
        self._ends.wait(self.pauses.pause)
        return heard


def closed_up(parts: list[Piece]) -> list[Piece]:
    """An utterance with its long inner pauses shortened.

    A recogniser that is given "six hundred and ... seventy five" with a second of silence in it may
    write 75.
    """
    kept: list[Piece] = []
    goes_on = len(parts)
    for at in range(len(parts) - 1, -1, -1):
        follows = parts[at + 1].quiet if at + 1 < len(parts) else parts[at].quiet
        if follows < parts[at].quiet:
            goes_on = at
        closing = goes_on == len(parts)
        if closing or parts[at].quiet <= GAP * SAMPLE_RATE or goes_on - at < _LEAD_IN:
            kept.append(parts[at])
    return kept[::-1]


def _cut(blocks: Iterator[Samples]) -> Iterator[Samples]:
    """The stream in blocks so short that no pause goes by within one."""
    for block in blocks:
        for start in range(0, len(block), _BLOCK):
            yield block[start : start + _BLOCK]
