"""How an answer sounds: its words, a short sound before them, and the manner that was asked for."""

from assistant.cook.reply import Reply
from assistant.facts.events import Manner
from assistant.say.earcons import EarconName
from assistant.say.manner import Manners
from assistant.say.speaker import Speaker
from assistant.turns.rendering import spoken
from assistant.turns.turn import Told, Turn


class Voicing:
    """A speaker that answers turns.

    manners : what the cook may change about the voice; nothing, when left out
    earcons : whether answers begin with a short sound
    """

    def __init__(
        self, speaker: Speaker, manners: Manners | None = None, earcons: bool = True
    ) -> None:
        self._speaker, self._manners, self._earcons = speaker, manners, earcons
        self._stopped: set[str] = set()

    def mannered(self, turn: Turn) -> Turn:
        """The turn, with the answer to "slower" and the like, which takes effect at once."""
        return mannered(turn, self._manners)

    def answer(self, turn: Turn, unasked: bool = False) -> None:
        """Say what the turn came to.

        unasked : nobody said anything: a timer ran out
        """
        mark, words = self._mark(turn, unasked), spoken(turn)
        if not words:
            return
        quiet = self._manners is not None and self._manners.quiet and mark != "limit"
        sound = mark if self._earcons else None
        if not quiet or sound:
            self._speaker.say("" if quiet else words, sound)

    def called(self) -> None:
        """The cook said our name and nothing else: we listen."""
        if self._earcons:
            self._speaker.say("", "question")

    def _mark(self, turn: Turn, unasked: bool) -> EarconName | None:
        stops = turn.stopped and turn.batch not in self._stopped
        if turn.stopped:
            self._stopped.add(turn.batch)
        else:
            self._stopped.discard(turn.batch)
        if stops:
            return "limit"
        if unasked:
            return "timer"
        if turn.verdict == "take":
            return "heard" if turn.heard else None
        return "question" if turn.verdict == "ask" else "not_heard"


def mannered(turn: Turn, manners: Manners | None) -> Turn:
    """A turn that asked for another manner takes effect at once, and says so."""
    how = next((event.how for event in turn.events if isinstance(event, Manner)), None)
    if how is None or manners is None:
        return turn
    told = Told(reply=Reply(lines=(manners.change(how),)))
    return turn.model_copy(update={"told": (told,)})
