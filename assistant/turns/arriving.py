"""What has come in before: messages sent again, and one person heard by two microphones."""

from collections import OrderedDict
from datetime import datetime

from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance
from assistant.understand.words import to_words

TWIN_S = 3.0
"""Within so long the same words from two microphones are one person heard twice (a choice). [s]"""
OLDEST_S = 1800.0
"""Words that waited longer for the network are not taken unasked: nobody remembers them. [s]"""
_REMEMBERED = 500


class Arrivals:
    """The messages that were answered lately, and the last words that were spoken."""

    def __init__(self) -> None:
        self._answered: OrderedDict[str, Turn] = OrderedDict()
        self._spoken: tuple[str, tuple[str, ...], datetime] | None = None

    def answered(self, id: str) -> Turn | None:
        """What was answered to the message, without a word: it is not told twice."""
        found = self._answered.get(id)
        return found and found.model_copy(update={"events": (), "told": (), "again": True})

    def remember(self, id: str, turn: Turn) -> None:
        """A message has been answered."""
        if id:
            self._answered[id] = turn
        while len(self._answered) > _REMEMBERED:
            self._answered.popitem(last=False)

    def is_twin(self, said: Utterance, now: datetime) -> bool:
        """Whether another microphone heard the same words a moment ago, however it wrote them."""
        if not said.spoken:
            return False
        last, words = self._spoken, to_words(said.heard.text)
        self._spoken = (said.device, words, now)
        if last is None or last[0] == said.device or last[1] != words:
            return False
        return (now - last[2]).total_seconds() < TWIN_S


def is_too_old(said: Utterance, now: datetime) -> bool:
    """Whether nobody may remember any more that they said it."""
    return said.at is not None and (now - said.at).total_seconds() > OLDEST_S
