"""Ears that hear what a script says: for tests of everything behind them."""

from collections.abc import Iterable, Iterator

from assistant.hear.heard import EngineName, Guess, Heard, Rivals, Samples


class ScriptedEars:
    """Ears that give one line of their script for each recording, or each block of a stream.

    script : a line is a text, a Heard, several Heard for one recording, or None for silence
    expected : every phrase list they were told, in order
    """

    name: EngineName = "scripted"

    def __init__(self, script: Iterable[str | Heard | list[Heard] | None]) -> None:
        self._script = iter(script)
        self.expected: list[tuple[str, ...]] = []
        self.why = "A script is read instead of listening."

    def expect(self, phrases: tuple[str, ...]) -> None:
        """Note the phrase list."""
        self.expected.append(phrases)

    def hear(self, samples: Samples) -> list[Heard]:  # noqa: ARG002
        """The next line of the script; nothing when it is over."""
        return _line(next(self._script, None))

    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        """The next line of the script for each block."""
        for block in blocks:
            yield from self.hear(block)

    def weigh(self, heard: Heard, rivals: Rivals) -> Heard:  # noqa: ARG002
        """A script knows no more than it says."""
        return heard


def _line(line: str | Heard | list[Heard] | None) -> list[Heard]:
    if line is None:
        return []
    if isinstance(line, str):
        guess = Guess(text=line, share=1.0)
        return [Heard(text=line, guesses=(guess,), sure=1.0, engine="scripted")]
    return [line] if isinstance(line, Heard) else line
