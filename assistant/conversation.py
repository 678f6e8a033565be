"""A session by ear: blocks of sound in, speech out, one turn after another."""

from collections.abc import Callable, Iterator

import numpy as np

from assistant.asked import Asked
from assistant.hear.heard import Ears, Heard, Samples
from assistant.kitchen import Kitchen
from assistant.say.speaker import Speaker
from assistant.session import Session, Turn
from assistant.understand import phrases


class Conversation:
    """Ears, session and speaker together.

    on_turn : told of every turn, for showing it; on_partial : told of words still being spoken
    """

    def __init__(
        self,
        session: Session | Kitchen,
        ears: Ears,
        speaker: Speaker,
        on_turn: Callable[[Turn], None],
        on_partial: Callable[[str], None] = lambda _: None,
    ) -> None:
        self._session, self._ears, self._speaker = session, ears, speaker
        self._on_turn, self._on_partial = on_turn, on_partial
        self._asked: Asked | None = None

    def run(self, blocks: Iterator[Samples]) -> None:
        """Talk until the cook says stop or the sound ends."""
        self._answer(self._session.greet())
        self._expect()
        for heard in self._ears.listen(self._attended(blocks)):
            if heard.partial:
                self._on_partial(heard.text)
            elif self._turn(heard).ended:
                break
        else:
            self._session.leave()
        self._speaker.wait()

    def _turn(self, heard: Heard) -> Turn:
        turn = self._session.hear(heard)
        self._answer(turn)
        self._expect()
        return turn

    def _answer(self, turn: Turn) -> None:
        self._on_turn(turn)
        if turn.say:
            self._speaker.say(turn.say)

    def _expect(self) -> None:
        """Tell the ears what may be said, when that has changed."""
        asked = self._session.asked()
        if self._asked is None or asked.awaited_names() != self._asked.awaited_names():
            self._ears.expect(phrases(asked))
        self._asked = asked

    def _attended(self, blocks: Iterator[Samples]) -> Iterator[Samples]:
        """The blocks, with silence in place of our own voice, and timers minded between them."""
        for block in blocks:
            yield np.zeros_like(block) if self._speaker.is_speaking() else block
            self._mind_timers()

    def _mind_timers(self) -> None:
        if self._speaker.is_speaking():
            return
        turn = self._session.remind()
        if turn is not None:
            self._answer(turn)
