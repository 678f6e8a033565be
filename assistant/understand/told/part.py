"""One thing that a sentence tells, in the grammars' own words."""

from dataclasses import dataclass, field

from assistant.facts.events import AnyEvent

Note = tuple[str, tuple[tuple[str, str], ...]]
"""Code of a line that asks for what is missing (`told.toml` in `say/words`), and its facts."""


@dataclass(frozen=True)
class Part:
    """Something told.

    words : the same as the grammars would have it; () where they can't say it
    events : what it comes to, where the grammars can't say it
    sure : nothing was beside it that was not understood
    doubt : why it is not taken as it stands: a line to be said, with its facts; it is never taken
    """

    words: tuple[str, ...] = ()
    events: tuple[AnyEvent, ...] = ()
    sure: bool = True
    doubt: Note | None = None
    what: str = field(default="", compare=False)
