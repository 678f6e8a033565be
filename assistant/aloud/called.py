"""A name that the cook calls the tool by, so that talk among people is left alone.

With a name, an utterance is for the tool when it begins with it, or comes soon after the tool
spoke: an answer needs no name. Without one everything is for it. Time is counted in the sound that
goes by, not by a clock.
"""

from rapidfuzz import fuzz

from assistant.base.errors import WrongUse
from assistant.hear.heard import Heard, Rest, without

WINDOW_S = 10.0
"""From the end of what we said to the end of the cook's answer: 8 s to begin, and the utterance.
Common practice, no source."""
NEAR_ENOUGH = 80.0
"""rapidfuzz ratio (0 to 100) from which a word counts as the misheard name. Of 30 everyday words
and phrases none comes to it with the names in the test."""
SHORTEST = 4
"""Letters that a name must have, or everything sounds like it."""
_MOST_WORDS = 3
_BEFORE = frozenset(("hey", "okay", "ok", "hello", "um", "uh", "oh", "so", "and", "now"))


class Called:
    """Tells what is said to the tool from what is said to others.

    name : one or two words; "" takes everything
    Raises WrongUse for a name that could not be told from other words.
    """

    def __init__(self, name: str) -> None:
        self.name = " ".join(_letters(word) for word in name.split())
        self._name = self.name.replace(" ", "")
        if name and (len(self._name) < SHORTEST or len(self.name.split()) > 2):
            raise WrongUse(
                f'"{name}" is no name to be called by: give one or two words of '
                f"{SHORTEST} letters or more, such as Marigold."
            )
        self._left = 0.0

    @property
    def words(self) -> tuple[str, ...]:
        """What ears that keep to a list must be able to hear besides."""
        return (self.name,) if self.name else ()

    def spoke(self) -> None:
        """We said something to the cook: an answer may come without the name."""
        self._left = WINDOW_S

    def passed(self, seconds: float) -> None:
        """So much sound went by in which we were silent."""
        self._left = max(0.0, self._left - seconds)

    def for_us(self, heard: Heard) -> Heard | None:
        """What was said to us, without the name; None when it was for somebody else.

        The text is empty where the name was all.
        """
        if not self.name:
            return heard
        named = self._named(heard)
        return named or (heard if self._left > 0 else None)

    def _named(self, heard: Heard) -> Heard | None:
        """The guesses that begin with the name, when they are most of the belief in it."""
        named = sum(guess.share for guess in heard.guesses if self._rest(guess.text))
        if 2 * named < sum(guess.share for guess in heard.guesses):
            return None
        return without(heard, self._rest)

    def _rest(self, text: str) -> Rest | None:
        """The text after the name; None where it doesn't begin with it."""
        words = text.split()
        start = 0
        while start < len(words) and _letters(words[start]) in _BEFORE:
            start += 1
        near = {
            count: fuzz.ratio("".join(map(_letters, words[start : start + count])), self._name)
            for count in range(1, 1 + min(_MOST_WORDS, len(words) - start))
        }
        best = max(near, key=lambda count: near[count], default=0)
        if near.get(best, 0.0) < NEAR_ENOUGH:
            return None
        end = start + best
        return Rest(" ".join(words[end:]), before=" ".join(words[:end]))


def _letters(word: str) -> str:
    return "".join(char for char in word.casefold() if char.isalpha())
