"""How the voice speaks: whether at all, how fast, how loud. Kept for a session, in no journal."""

from typing import Protocol

from assistant.cook.reply import Line
from assistant.facts.events import How

FASTER, LOUDER = 1.2, 1.25
"""A step that is heard as one. Common practice, no source."""
SLOWEST, FASTEST = 100, 320
"""Words a minute that can be followed at a stove. Common practice, no source."""
SOFTEST, LOUDEST = 0.25, 1.5


class Adjustable(Protocol):
    """A voice whose speed [words a minute] and volume [1 is normal] can be set."""

    rate: int
    volume: float


class Manners:
    """What the cook asked of the voice.

    quiet : say no words; what stops a batch is said all the same
    """

    def __init__(self, voice: Adjustable) -> None:
        self._voice = voice
        self.quiet = False

    def change(self, how: How) -> Line:
        """Speak so from now on; the answer to it."""
        if how in ("quiet", "speak"):
            self.quiet = how == "quiet"
            return _line(how)
        changed = self._pace(how) if how in ("slower", "faster") else self._strength(how)
        self.quiet = False
        return _line(how if changed else "enough")

    def _pace(self, how: How) -> bool:
        before = self._voice.rate
        wanted = before * FASTER if how == "faster" else before / FASTER
        self._voice.rate = min(max(round(wanted), SLOWEST), FASTEST)
        return self._voice.rate != before

    def _strength(self, how: How) -> bool:
        before = self._voice.volume
        wanted = before * LOUDER if how == "louder" else before / LOUDER
        self._voice.volume = min(max(wanted, SOFTEST), LOUDEST)
        return self._voice.volume != before


def no_voice() -> Line:
    """The answer where nothing is said aloud."""
    return _line("no_voice")


def _line(name: str) -> Line:
    return Line(id=f"manner.{name}", rank="answer")
